package cli

import (
	"runtime/debug"

	"github.com/spf13/cobra"
)

type versionAnswer struct {
	Answer string `json:"answer"`
	V      int    `json:"v"`
	Build  string `json:"build"`
	Format int    `json:"format"`
	Rules  int    `json:"rules"`
}

func newVersion(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Say which build this is and which formats it reads",
		Example: `  lapmark version`,
		Args:    args(0, 0),
		RunE: func(*cobra.Command, []string) error {
			build := "unknown build"
			if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
				build = info.Main.Version
			}
			if e.json {
				return e.answer(versionAnswer{"version", 1, build, 1, 1})
			}
			return e.print("lapmark %s, ledger format 1, rules 1", build)
		},
	}
}

// Package cli is the command line: one file per verb, words to people, exit
// codes. What a verb does is in package shop.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/console"
	"lapmark/cmd/internal/shop"
	"lapmark/report/english"
)

// env is what a verb works with.
type env struct {
	console *console.Console
	now     func() time.Time
	random  io.Reader
	here    string
	getenv  func(string) string
	drive   func(folder string) string // shop.NetworkDrive

	shopFolder string
	json       bool
	noInput    bool
	passFD     int
	passFile   *os.File
	clockRight bool
}

// Main runs the command line of the process and returns its exit code.
func Main(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	here, err := os.Getwd()
	if err != nil {
		here = "."
	}
	e := &env{console: console.Standard(), now: time.Now, here: here, getenv: os.Getenv, drive: shop.NetworkDrive}
	return e.run(ctx, args)
}

// run parses and carries out one command.
func (e *env) run(ctx context.Context, args []string) int {
	root := e.root()
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	code := exitCode(err)
	var done *exit
	if err != nil && !(errors.As(err, &done) && done.err == nil) {
		e.console.Say("lapmark: %s", sentence(err))
	}
	return code
}

func (e *env) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "lapmark",
		Short: "The repair and warranty ledger of a coach-roof shop",
		Long: `lapmark keeps one signed, append-only ledger per coach: what was found, decided,
used, cured, measured and promised. Papers made from it can be checked by
anybody, without a network.

A wet or soft roof does not bear a person: use boards, and guard the edge.
Figures here are aids: the maker's sheet, local codes and the law come first.

Exit codes:
` + exitCodes(),
		SilenceUsage: true, SilenceErrors: true, Args: args(0, many),
		RunE: func(c *cobra.Command, given []string) error {
			if len(given) > 0 {
				return noVerb(given[:1])
			}
			return c.Help()
		},
		PersistentPreRunE: func(c *cobra.Command, _ []string) error {
			e.console.Silent = e.noInput
			e.console.Stopped = c.Context().Done()
			return e.openDescriptor()
		},
	}
	root.SetOut(e.console.Out)
	root.SetErr(e.console.Err)
	flags := root.PersistentFlags()
	flags.StringVar(&e.shopFolder, "shop", "", "the shop `FOLDER` (else LAPMARK_SHOP, else the folder above that is one)")
	flags.BoolVar(&e.json, "json", false, "answer as JSON")
	flags.BoolVar(&e.noInput, "no-input", false, "never ask; stop instead")
	flags.IntVar(&e.passFD, "passphrase-fd", -1, "read the passphrase from this open file descriptor `NUMBER`")
	flags.BoolVar(&e.clockRight, "clock-is-right", false, "the clock of this machine was looked at and is right")
	for _, verb := range []func(*env) *cobra.Command{
		newBegin, newIntake, newSheet, newAdd, newWords, newPencil, newInk, newShow, newLookUp, newCertify, newGive,
		newPapers, newAsk, newRuling, newMay, newWaiting, newTrust, newReckon, newVerify, newHead, newExport, newDemo,
		newManPages, newVersion,
	} {
		root.AddCommand(verb(e))
	}
	root.SetHelpCommand(newHelp())
	addCompletion(root)
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return flagWrong(err) })
	return root
}

// flagWrong says what is wrong with a flag, without the words of a programmer.
func flagWrong(err error) error {
	if says, _, isNumber := strings.Cut(err.Error(), ": strconv."); isNumber {
		return fmt.Errorf("%w: %s: it takes a number", shop.ErrUse, says)
	}
	return fmt.Errorf("%w: %w", shop.ErrUse, err)
}

// many stands for any number of arguments.
const many = -1

// args asks for so many arguments; another number is wrong use.
func args(least, most int) cobra.PositionalArgs {
	return func(c *cobra.Command, given []string) error {
		if len(given) < least || most != many && len(given) > most {
			return fmt.Errorf("%w: %s; write it so: %s. What has blanks in it goes between quotes",
				shop.ErrUse, english.Numbered(len(given), "word was given", "words were given"), c.UseLine())
		}
		return nil
	}
}

// open opens the shop of this command.
func (e *env) open() (*shop.Shop, error) {
	folder, err := e.folder()
	if err != nil {
		return nil, err
	}
	return shop.Open(folder, shop.Options{Now: e.now, Random: e.random})
}

func (e *env) folder() (string, error) {
	return shop.Find(e.shopFolder, e.getenv("LAPMARK_SHOP"), e.absolute("."))
}

func (e *env) absolute(path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(e.here, path)
}

// withShop opens the shop, does something and closes it.
func (e *env) withShop(do func(*shop.Shop) error) (err error) {
	s, err := e.open()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	e.warnOfDrive(s.Folder)
	return do(s)
}

// warnOfDrive says when a shop lies on a drive that other machines share.
func (e *env) warnOfDrive(folder string) {
	if e.drive == nil {
		return
	}
	if kind := e.drive(folder); kind != "" {
		e.console.Say("Take care: %s lies on a network drive (%s). Locks and syncing cannot be relied on there, and a coach file can be "+
			"damaged. Move the shop folder to a disk of this machine.", folder, kind)
	}
}

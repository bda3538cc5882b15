package loose

import (
	"os"
	"strings"
	"testing"
)

func TestOne(t *testing.T) {
	line := os.Getenv("ONE")
	if line == "" {
		return
	}
	shop, coach := demoShop(t), demoCoach(t)
	for _, one := range strings.Split(line, "||") {
		one = strings.ReplaceAll(one, `\n`, "\n")
		b, err := newBase(clean(one), demoHeading, []string{"hand-1"}, shop, coach)
		if err == nil && os.Getenv("TOKENS") != "" {
			for _, tok := range b.tokens {
				t.Logf("%d %q raw=%q unit=%q filler=%v senses=%v", tok.kind, tok.s, tok.raw, tok.unit, tok.filler, tok.senses)
			}
		}
		t.Logf("%s\n   -> %s", one, answer(one, shop, coach))
	}
}

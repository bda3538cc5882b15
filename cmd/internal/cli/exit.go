package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"lapmark/cmd/internal/console"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/ledger/book"
	"lapmark/ledger/chain"
	"lapmark/ledger/file"
	"lapmark/ledger/reckon"
	"lapmark/ledger/trade"
)

// Exit codes. 3 beats 7 beats 0.
const (
	exitDone     = 0
	exitCould    = 1 // could not: disk, file, a fault of ours
	exitUse      = 2 // wrong use; nothing was checked
	exitBad      = 3 // checked and bad; a rule refused
	exitNoCoach  = 4 // no such coach, or more than one
	exitBusy     = 5
	exitNoKey    = 6 // no key, wrong passphrase, agent not there
	exitNotKnown = 7 // checked as far as possible and not settled
)

// exitMeaning says each code once; the help prints it, and a test compares the
// README with it.
var exitMeaning = []struct {
	Code  int
	Means string
}{
	{exitDone, "done; or asked and answered, whatever the answer"},
	{exitCould, "could not: disk, file, fault of ours"},
	{exitUse, "wrong use; nothing was checked (an empty ledger too)"},
	{exitBad, "checked and bad: not whole, not the paper that left the house, papers not on one chain; a rule refused"},
	{exitNoCoach, "no such coach, or more than one (they are listed)"},
	{exitBusy, "busy"},
	{exitNoKey, "no key, wrong passphrase, agent not there"},
	{exitNotKnown, "checked as far as possible and not settled: key not in your trust, key retired, newer than this tool, pages saved again, one of several papers missing"},
}

// exit is an error that has its own code; without err everything was said.
type exit struct {
	code int
	err  error
}

func (e *exit) Error() string {
	if e.err == nil {
		return "found wanting"
	}
	return e.err.Error()
}

func (e *exit) Unwrap() error { return e.err }

// coded ties errors to exit codes, in the order they are asked.
var coded = []struct {
	code int
	errs []error
}{
	{exitNoCoach, []error{shop.ErrNoCoach, shop.ErrManyCoach}},
	{exitBusy, []error{file.ErrBusy}},
	{exitNoKey, []error{
		keyring.ErrPassphrase, keyring.ErrNoAgent, keyring.ErrAgentLacksKey, keyring.ErrAgentRefused,
		keyring.ErrUnprotected, keyring.ErrNotEd25519, keyring.ErrNotKeyFile, shop.ErrNotOurKey, errNoKey,
	}},
	{exitBad, []error{shop.ErrRefused, shop.ErrNotGivenOut}},
	{exitNotKnown, []error{shop.ErrCannotSay}},
	{exitUse, []error{
		shop.ErrUse, shop.ErrNoShop, shop.ErrShopThere, shop.ErrNothing, shop.ErrClock, console.ErrNobody, io.EOF,
		chain.ErrCode, keyring.ErrDemoKey, keyring.ErrNameTaken, keyring.ErrKeyListed, keyring.ErrNotListed,
		book.ErrNoNote, book.ErrShort, reckon.ErrAsked, trade.ErrRange, trade.ErrOrder,
	}},
}

func exitCode(err error) int {
	var own *exit
	var held *shop.Held
	var short *shop.Short
	var damaged *shop.Damaged
	var trust *keyring.TrustError
	var row *keyring.RowError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &own):
		return own.code
	case errors.As(err, &held), errors.As(err, &short), errors.As(err, &damaged):
		return exitBad
	case errors.As(err, &trust), errors.As(err, &row):
		return exitUse
	}
	for _, c := range coded {
		for _, target := range c.errs {
			if errors.Is(err, target) {
				return c.code
			}
		}
	}
	return exitCould
}

// next says what to do about an error, where that is not plain from it.
var next = []struct {
	err  error
	says string
}{
	{shop.ErrNoShop, "Run lapmark begin FOLDER to make one, or say where it is with --shop."},
	{shop.ErrShopThere, "Nothing was touched."},
	{shop.ErrNotOurKey, "Sign with the key the ledger names."},
	{keyring.ErrPassphrase, "Nothing was signed. Everything is still in pencil."},
	{keyring.ErrNoAgent, "Start the agent, or use the key file with its passphrase."},
	{shop.ErrClock, "Set the clock, or say --clock-is-right."},
	{file.ErrBusy, "Another window is writing. Try again; nothing of this was written."},
	{file.ErrFull, "No half file is left. Make room and try again."},
	{file.ErrReadOnly, "Nothing was written. The folder can only be read here."},
	{file.ErrDamaged, "Nothing was changed. Put a sound copy of this file back."},
	{file.ErrMissing, "Nothing was changed. Put a sound copy of this file back."},
	{fs.ErrExist, "Nothing was overwritten. Give another name or folder with --out."},
	{console.ErrNobody, "Leave out --no-input, or give it by flag."},
	{context.Canceled, "Stopped. Nothing was signed."},
	{shop.ErrCannotSay, "Ask a newer tool; no certificate is made here."},
	{shop.ErrNotGivenOut, "It was not written. Look for a sound copy of it."},
	{fs.ErrNotExist, "Put it back, or name another."},
}

// sentence is an error for people: what, where, and what now.
func sentence(err error) string {
	text := err.Error()
	var newer file.NewerError
	var damaged *shop.Damaged
	says := ""
	switch {
	case errors.As(err, &newer):
		says = "Nothing was changed. Use the newer program."
	case errors.As(err, &damaged):
		says = "Nothing was changed. Put a sound copy of this file back."
	}
	for _, n := range next {
		if says == "" && errors.Is(err, n.err) {
			says = n.says
		}
	}
	if says == "" {
		return text
	}
	return strings.TrimSuffix(text, ".") + ". " + says
}

// exitCodes lists the exit codes for the help.
func exitCodes() string {
	var out strings.Builder
	for _, m := range exitMeaning {
		fmt.Fprintf(&out, "  %d  %s\n", m.Code, m.Means)
	}
	return strings.TrimSuffix(out.String(), "\n")
}

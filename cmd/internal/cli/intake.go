package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
	"lapmark/ledger/vin"
)

func newIntake(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "intake [SHEET]",
		Short: "Take a coach in: its plate, its holder, what the holder says",
		Long: `intake takes a coach in. At a terminal it asks one thing after the other; else it
reads the intake as a sheet from a file or standard input, or as a JSON object
of the body (private values under "private"). It ends in pencil: lapmark ink
signs it. The roof can be measured later.`,
		Example: `  lapmark intake
  lapmark intake arrival.txt`,
		Args: args(0, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.intake(cmd.Context(), s, args) })
		},
	}
	return c
}

func (e *env) intake(ctx context.Context, s *shop.Shop, args []string) error {
	if len(args) == 0 && e.console.Terminal() {
		return e.askIntake(ctx, s)
	}
	name := "-"
	if len(args) == 1 {
		name = args[0]
	}
	text, err := e.read(name)
	if err != nil {
		return err
	}
	if strings.HasPrefix(strings.TrimSpace(string(text)), "{") {
		return e.intakeJSON(s, text)
	}
	notes, err := s.Reading(text, "")
	if err != nil {
		return err
	}
	if len(notes) == 0 || notes[0].Kind != "intake" && notes[0].Line != "" {
		return fmt.Errorf("%w: no intake in it; an intake begins with the line \"intake:\"", shop.ErrUse)
	}
	if err := s.Pencil(notes, []string{e.here}); err != nil {
		return err
	}
	return e.penciled(notes)
}

// intakeJSON reads the body of an intake as JSON.
func (e *env) intakeJSON(s *shop.Shop, text []byte) error {
	d, err := draftFromJSON("intake", text)
	if err != nil {
		return err
	}
	today, zone := s.Today()
	if _, said := d.Body["happened"]; !said {
		d.Body["happened"] = today
	}
	return e.pencilDraft(s, d, sheet.Heading{Coach: or(d.Text("vin"), d.Text("serial")), Day: d.Text("happened")[:min(10, len(d.Text("happened")))], Zone: zone})
}

// draftFromJSON reads a draft from JSON that need not be canonical.
func draftFromJSON(kind string, text []byte) (ledger.Draft, error) {
	dec := json.NewDecoder(strings.NewReader(string(text)))
	dec.UseNumber()
	var raw map[string]any
	if err := dec.Decode(&raw); err != nil {
		return ledger.Draft{}, fmt.Errorf("%w: no JSON object: %w", shop.ErrUse, err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return ledger.Draft{}, fmt.Errorf("%w: more follows the JSON object", shop.ErrUse)
	}
	if err := unlike(kind, raw); err != nil {
		return ledger.Draft{}, err
	}
	if name := twice(text); name != "" {
		return ledger.Draft{}, fmt.Errorf("%w: %s stands twice in the JSON object", shop.ErrUse, name)
	}
	d := ledger.Draft{Kind: kind, Body: format.Object{}, Private: map[string]string{}}
	for name, v := range raw {
		if name == "private" {
			values, ok := v.(map[string]any)
			if !ok {
				return d, fmt.Errorf("%w: private is no object of names and texts", shop.ErrUse)
			}
			for private, value := range values {
				text, ok := value.(string)
				if !ok {
					return d, fmt.Errorf("%w: private %s is no text", shop.ErrUse, private)
				}
				d.Private[private] = text
			}
			continue
		}
		value, err := plainValue(v)
		if err != nil {
			return d, fmt.Errorf("%w: %s: %w", shop.ErrUse, name, err)
		}
		d.Body[name] = value
	}
	return d, nil
}

// unlike refuses an object that says nothing, or has a member that notes of this
// kind have not.
func unlike(kind string, raw map[string]any) error {
	if len(raw) == 0 {
		return fmt.Errorf("%w: the JSON object is empty", shop.ErrUse)
	}
	k, _ := ledger.KindNamed(kind)
	names := []string{"private"}
	for _, f := range k.AllFields() {
		names = append(names, f.Name)
	}
	for _, name := range slices.Sorted(maps.Keys(raw)) {
		if !slices.Contains(names, name) {
			return fmt.Errorf("%w: a %s has no member %q; it has %s", shop.ErrUse, kind, name, strings.Join(names, ", "))
		}
	}
	return nil
}

// twice is a name that one object of the JSON has two times, "" if none has.
func twice(text []byte) string {
	dec := json.NewDecoder(bytes.NewReader(text))
	var open []map[string]bool // the names of each object that is open, nil for an array
	isName := false
	for {
		t, err := dec.Token()
		if err != nil {
			return ""
		}
		in := len(open) > 0 && open[len(open)-1] != nil
		switch t := t.(type) {
		case json.Delim:
			switch t {
			case '{':
				open = append(open, map[string]bool{})
			case '[':
				open = append(open, nil)
			default:
				open = open[:len(open)-1]
			}
			isName = len(open) > 0 && open[len(open)-1] != nil
			continue
		case string:
			if in && isName {
				if open[len(open)-1][t] {
					return t
				}
				open[len(open)-1][t] = true
				isName = false
				continue
			}
		}
		isName = in
	}
}

func plainValue(v any) (format.Value, error) {
	switch v := v.(type) {
	case string, bool:
		return v, nil
	case json.Number:
		n, err := v.Int64()
		if err != nil {
			return nil, fmt.Errorf("%s is no whole number", v)
		}
		return n, nil
	case []any:
		out := make(format.Array, len(v))
		for i := range v {
			one, err := plainValue(v[i])
			if err != nil {
				return nil, err
			}
			out[i] = one
		}
		return out, nil
	case map[string]any:
		out := format.Object{}
		for name, member := range v {
			one, err := plainValue(member)
			if err != nil {
				return nil, err
			}
			out[name] = one
		}
		return out, nil
	}
	return nil, fmt.Errorf("null has no place in a note")
}

// pencilDraft writes a draft as a sheet and reads it like any other.
func (e *env) pencilDraft(s *shop.Shop, d ledger.Draft, h sheet.Heading) error {
	if kind, ok := ledger.KindNamed(d.Kind); ok {
		for _, f := range kind.AllFields() {
			if _, there := d.Body[f.Name]; f.Default != nil && !there {
				d.Body[f.Name] = f.Default
			}
		}
	}
	line, err := sheet.Line(d, h)
	if err != nil {
		return fmt.Errorf("%w: %w", shop.ErrUse, err)
	}
	if err := allSaid(d, line, h); err != nil {
		return err
	}
	text := strings.Join(h.Lines(sheet.Heading{}), "\n") + "\n" + sheet.Fold(line) + "\n"
	notes, err := s.Reading([]byte(text), "")
	if err != nil {
		return err
	}
	if err := s.Pencil(notes, []string{e.here}); err != nil {
		return err
	}
	return e.penciled(notes)
}

// allSaid refuses a draft of which a member would be lost on its way into a line.
func allSaid(d ledger.Draft, line string, h sheet.Heading) error {
	read, err := sheet.ReadLine(line, h)
	if err != nil {
		return nil // it is kept, as unclear
	}
	for _, name := range slices.Sorted(maps.Keys(d.Body)) {
		given, err := format.Encode(d.Body[name])
		if err != nil {
			return fmt.Errorf("%w: %s: %w", shop.ErrUse, name, err)
		}
		kept, err := format.Encode(read.Body[name])
		if err != nil || string(kept) != string(given) {
			return fmt.Errorf("%w: %s is not as a %s can say it, and would be read as: %s", shop.ErrUse, name, d.Kind, line)
		}
	}
	return nil
}

// askIntake asks for the plate, then for the rest of an intake.
func (e *env) askIntake(ctx context.Context, s *shop.Shop) error {
	plate, err := e.console.Ask("VIN, or the serial of an older plate", "")
	if err != nil {
		return err
	}
	plate = strings.ToUpper(strings.Join(strings.Fields(plate), ""))
	if plate == "" {
		return fmt.Errorf("%w: no plate, nothing was written", shop.ErrUse)
	}
	if err := s.NoIntakeYet(plate); err != nil {
		return err
	}
	called, err := e.vinOrSerial(plate)
	if err != nil {
		return err
	}
	a, err := s.AskIntake(plate, called)
	if err != nil {
		return err
	}
	return e.askAll(ctx, s, a)
}

// nearVin is how short a plate may be and still look like a VIN with a
// character missing.
const nearVin = 15

// vinOrSerial asks where a plate looks like a VIN but is none.
func (e *env) vinOrSerial(plate string) (string, error) {
	form := vin.Form(plate)
	if form == nil {
		if r := vin.Check(plate); r.HasDigit && !r.Good {
			e.console.Say("Position 9 should be %c, the VIN says %c. Read the plate again.", r.Want, r.Is)
		}
		return "vin", nil
	}
	if len(plate) < nearVin {
		return "serial", nil
	}
	yes, err := e.console.Yes(fmt.Sprintf("That is no VIN (%v). Is it the serial of an older plate?", form))
	if err == nil && !yes {
		err = fmt.Errorf("%w: read the plate again; nothing was written", shop.ErrUse)
	}
	return "serial", err
}

package rules

import (
	"errors"
	"fmt"
	"slices"

	"lapmark/ledger/format"
)

// ErrTyped is a note that says otherwise than the ledger and the limits give.
var ErrTyped = errors.New("the note does not hold")

func typedf(text string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrTyped, fmt.Sprintf(text, args...))
}

func object(v format.Value) format.Object {
	o, _ := v.(format.Object)
	return o
}

// Fill fills what the tool fills in a draft: limits and
// passes of checks, those that a correction mends among them, dose and earliest of a release, holder and places of a
// decision, a tag, the lists of a certificate. Without a ledger there is nothing
// to fill from. It changes the body of the draft. The error is ErrTyped, or what keeps a release from being reckoned.
func Fill(c Case) error {
	if _, typed := c.Act.Body["limits"]; typed {
		return typedf("leave limit-used out, the tool writes the limits that decided")
	}
	if c.Replay == nil {
		return nil
	}
	if err := fillResults(c); err != nil {
		return err
	}
	switch c.Act.Kind {
	case "correction":
		return fillCorrection(c)
	case "finding":
		fillTag(c, "F%d")
	case "claim":
		fillTag(c, "C%d")
		fillHolder(c)
	case "decision":
		return fillDecision(c)
	case "cure":
		return fillCure(c)
	case "certificate":
		if err := fillNumber(c); err != nil {
			return err
		}
		return fillCertificate(c)
	}
	return nil
}

// fillTag gives the next free tag of a form.
func fillTag(c Case, form string) {
	if _, said := c.Act.Body["tag"]; said {
		return
	}
	for n := 1; ; n++ {
		tag := fmt.Sprintf(form, n)
		if _, taken := c.Replay.Tagged(tag); !taken {
			c.Act.Body["tag"] = tag
			return
		}
	}
}

// fillNumber gives a certificate the shop's next free number.
func fillNumber(c Case) error {
	if _, said := c.Act.Body["tag"]; said || c.Next == nil {
		return nil
	}
	number, err := c.Next()
	if err != nil {
		return fmt.Errorf("next number of a certificate: %w", err)
	}
	c.Act.Body["tag"] = number
	return nil
}

// fillHolder names who holds the coach that day.
func fillHolder(c Case) {
	if _, said := c.Act.Body["holder"]; !said {
		c.Act.Body["holder"] = c.Replay.HolderAt(c.Act)
	}
}

func fillDecision(c Case) error {
	fillHolder(c)
	if _, said := c.Act.Body["places"]; said {
		return nil
	}
	var places format.Array
	for _, no := range c.Act.Refs("answers") {
		if a := c.Replay.Act(no); a != nil {
			list, _ := a.Body["places"].(format.Array)
			for _, p := range list {
				if !slices.ContainsFunc(places, func(q format.Value) bool { return format.Same(p, q) }) {
					places = append(places, p)
				}
			}
		}
	}
	if places == nil {
		return typedf("the entries it answers name no place. Say at which place")
	}
	c.Act.Body["places"] = places
	return nil
}

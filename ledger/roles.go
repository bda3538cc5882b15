package ledger

import (
	"fmt"
	"maps"

	"lapmark/ledger/format"
)

// roles follows who may write what, entry by entry. They rest on kinds and
// bodies as signed; a correction never changes them.
type roles struct {
	house    string // public key line
	recovery string // fingerprint
	next     string // fingerprint the newest hand-over names, "" once taken on
	history  map[int64]roles
}

func newRoles() *roles { return &roles{history: map[int64]roles{}} }

// at returns the roles as they were after entry n, unable to change: in a side
// branch key-changes, hand-overs, take-ons and take-ins change nothing.
func (r *roles) at(n int64) *roles {
	found := roles{}
	best := int64(0)
	for from, past := range r.history {
		if from <= n && from > best {
			best, found = from, past
		}
	}
	found.history = maps.Clone(r.history)
	return &found
}

// judge returns the role in which e was written, or ErrRole with the reason.
func (r *roles) judge(c *Coach, e *Entry, verify Verify) (Role, error) {
	kind, known := KindNamed(e.Kind())
	switch {
	case e.No.N == 1:
		return House, r.intake(e)
	case e.Kind() == "intake":
		return Guest, rolef("an intake stands only as entry 1")
	case e.Line.Key == r.recovery:
		if e.Kind() != "key-change" {
			return Recovery, rolef("the recovery key writes nothing but key-change")
		}
		return Recovery, r.keyChange(c, e, verify)
	case e.Kind() == "key-change":
		return Guest, rolef("a key-change is signed by the recovery key")
	case e.Kind() == "take-on":
		return House, r.takeOn(e)
	case e.Key == r.house:
		return House, r.houseEntry(c, e, verify)
	case known && !kind.Guest:
		return Guest, rolef("a guest may not write %s", e.Kind())
	}
	return Guest, nil
}

func rolef(text string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrRole, fmt.Sprintf(text, args...))
}

// keysNamed reads the house and the recovery key that an intake, key-change or
// take-on names; they must be two keys.
func keysNamed(e *Entry) (house, recovery string, err error) {
	house, recovery = e.Text("house"), e.Text("recovery")
	print, err := format.Fingerprint(house)
	if err != nil || recovery == "" {
		return "", "", rolef("%s names no house and no recovery key", e.Kind())
	}
	if print == recovery {
		return "", "", rolef("house and recovery key are the same")
	}
	return house, recovery, nil
}

func (r *roles) intake(e *Entry) error {
	if e.Kind() != "intake" {
		return rolef("entry 1 is the intake, not a %s", e.Kind())
	}
	house, _, err := keysNamed(e)
	if err == nil && e.Key != house {
		err = rolef("the intake is signed by its house")
	}
	return err
}

func (r *roles) keyChange(c *Coach, e *Entry, verify Verify) error {
	house, _, err := keysNamed(e)
	if err != nil {
		return err
	}
	if firm, there := e.Body()["firm"]; there || e.Text("reason") == "stolen" {
		if h, ok := headOf(firm); !ok || !c.isHead(h) {
			return rolef("firm is no head of this chain")
		}
	}
	key, err := accepted(e, verify)
	if err != nil || key != house {
		return rolef("the new house key has not accepted")
	}
	return nil
}

func (r *roles) takeOn(e *Entry) error {
	if e.Line.Key != r.next || r.next == "" {
		return rolef("a take-on is signed by the key that the newest hand-over names, once")
	}
	house, _, err := keysNamed(e)
	if err == nil && e.Key != house {
		err = rolef("a take-on is signed by its house")
	}
	return err
}

func (r *roles) houseEntry(c *Coach, e *Entry, verify Verify) error {
	switch e.Kind() {
	case "hand-over":
		key, err := accepted(e, verify)
		if err != nil {
			return rolef("the recovery key has not accepted the hand-over")
		}
		if print, err := format.Fingerprint(key); err != nil || print != r.recovery {
			return rolef("the recovery key has not accepted the hand-over")
		}
	case "take-in":
		if h, ok := headOf(e.Body()["from"]); !ok || h.Size == 0 || !c.isHead(h) {
			return rolef("from is no head of this chain")
		}
	}
	return nil
}

// accepted returns the key of the signature in accept, over the canonical line
// without it.
func accepted(e *Entry, verify Verify) (string, error) {
	blob, err := format.DecodeBase64(e.Text("accept"))
	if err != nil {
		return "", err
	}
	message, err := AcceptMessage(e.Line)
	if err != nil {
		return "", err
	}
	return verify(AcceptNamespace, message, blob)
}

// AcceptMessage returns what accept signs: the canonical line with accept left
// out of the body, and its line end.
func AcceptMessage(line format.Line) ([]byte, error) {
	v, err := format.Parse(line.Body)
	body, ok := v.(format.Object)
	if err != nil || !ok {
		return nil, fmt.Errorf("%w: body", format.ErrShape)
	}
	delete(body, "accept")
	if line.Body, err = format.Encode(body); err != nil {
		return nil, err
	}
	l1, err := line.Append(nil)
	return append(l1, '\n'), err
}

// follow takes on what an entry of the main chain changes.
func (r *roles) follow(c *Coach, e *Entry) {
	changed := true
	switch {
	case e.Kind() == "intake", e.Kind() == "key-change" && e.Role == Recovery, e.Kind() == "take-on" && e.Role == House:
		r.house, r.recovery = e.Text("house"), e.Text("recovery")
		if e.Kind() == "take-on" {
			r.next = ""
		}
	case e.Kind() == "hand-over" && e.Role == House:
		r.next = e.Text("key")
	default:
		changed = false
	}
	if changed {
		r.history[e.No.N] = roles{house: r.house, recovery: r.recovery, next: r.next}
	}
	c.House, c.Recovery = r.house, r.recovery
}

// Replaced finds the key-change that took the house from a key, the newest one;
// nil of a key that was never the house's, or is.
func (c *Coach) Replaced(key string) *Entry {
	house := ""
	var by *Entry
	for _, e := range c.Entries {
		taken := e.Kind() == "key-change" && e.Role == Recovery
		if !taken && e.Kind() != "intake" && (e.Kind() != "take-on" || e.Role != House) {
			continue
		}
		if taken && house == key {
			by = e
		}
		house = e.Text("house")
	}
	if key == c.House {
		return nil
	}
	return by
}

package shop

import (
	"errors"
	"fmt"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/ledger/sheet"
)

// admit refuses, before any rule is asked, what would not fit the ledger: a tag
// or lot that is another thing already, a place that cannot be worked out, a
// correction that takes the coach away from its own intake.
func (w *writing) admit(a *ledger.Act) error {
	if w.coach.Replay == nil {
		return nil
	}
	for _, check := range []func(*ledger.Act) error{w.freeTag, w.freeLots, w.placed, w.intakeStays, w.freePlate, w.verdictMade} {
		if err := check(a); err != nil {
			return err
		}
	}
	return nil
}

func (w *writing) freeTag(a *ledger.Act) error {
	tag := a.Text("tag")
	no, taken := w.coach.Replay.Tagged(tag)
	if tag == "" || !taken || a.Kind == "certificate" {
		return nil // a certificate's number has a rule of its own
	}
	return &sheet.Unclear{Reason: sheet.ReasonReference, What: fmt.Sprintf("%s is entry %s already; give another tag", tag, no)}
}

// freeLots refuses a lot that is of another material here.
func (w *writing) freeLots(a *ledger.Act) error {
	if a.Kind != "delivery" {
		return nil
	}
	for _, o := range ledger.Objects(a.Body["lots"]) {
		id, _ := o["lot"].(string)
		lot, known := w.coach.Replay.Lots[id]
		if known && lot.Shape["material"] != o["material"] {
			return &sheet.Unclear{Reason: sheet.ReasonReference, What: fmt.Sprintf("lot %s is %v by entry %s, not %v", id, lot.Shape["material"], lot.By, o["material"])}
		}
	}
	return nil
}

// placed refuses a place that no measure has answered for. What reaches all
// over may wait for the first deck.
func (w *writing) placed(a *ledger.Act) error {
	return workable(w.coach.Replay, a)
}

func workable(r *ledger.Replay, a *ledger.Act) error {
	for _, p := range ledger.PlacesIn(a.Kind, a.Body) {
		if err := placeable(r, a, p); err != nil {
			return err
		}
	}
	return nil
}

func placeable(r *ledger.Replay, a *ledger.Act, p place.Place) error {
	_, err := r.Region(a, []place.Place{p})
	var name place.ErrNoName
	var such place.ErrNoSuch
	switch {
	case errors.As(err, &name):
		return &sheet.Unclear{Reason: sheet.ReasonReference, What: "nothing is called " + name.Name}
	case errors.As(err, &such):
		return &sheet.Unclear{Reason: sheet.ReasonPlace, What: fmt.Sprintf("%s %d: this coach has %d", such.What, such.Number, such.Last)}
	case errors.Is(err, place.ErrNoRafters), errors.Is(err, place.ErrNoDeck) && p.Shape == place.Bay:
		return &sheet.Unclear{Reason: sheet.ReasonPlace, What: ledger.SayPlace(p) + "? the rafters are not measured yet"}
	}
	return nil
}

// intakeStays refuses to take the intake out of its own ledger.
func (w *writing) intakeStays(a *ledger.Act) error {
	if a.Kind != "correction" || a.Body["not-this-coach"] != true {
		return nil
	}
	for _, no := range a.Refs("answers") {
		if b := w.coach.Replay.Act(no); b != nil && b.Kind == "intake" {
			return fmt.Errorf("%w: the intake names the coach of this ledger; not-this-coach does not touch it", ErrRefused)
		}
	}
	return nil
}

// freePlate refuses a correction that leaves the coach without a plate of its
// own: one VIN or serial, as a sheet can name it, that no other coach here has.
func (w *writing) freePlate(a *ledger.Act) error {
	intake := w.coach.Replay.Intake()
	if a.Kind != "correction" || !slices.Contains(a.Refs("answers"), intake.No) {
		return nil
	}
	mended := intake.Mended(a)
	plate := mended.Text("vin") + mended.Text("serial")
	switch {
	case plate == w.coach.Replay.Plate():
		return nil
	case (mended.Text("vin") == "") == (mended.Text("serial") == ""):
		return fmt.Errorf("%w: the coach has one VIN or one serial: say first the new one with is, then the old one with was", ErrRefused)
	case !sheet.IsPlate(plate):
		return fmt.Errorf("%w: %s: a plate has capitals, digits and hyphens", ErrRefused, plate)
	}
	other, err := w.shop.byPlate(plate)
	if err == nil && other.Ledger != nil && other.ID != w.coach.ID {
		err = fmt.Errorf("%w: %s is another coach here, %s. Read both plates again", ErrRefused, plate, other.ID)
	}
	return err
}

// elsewhere refuses an intake of a plate that has its ledger here.
func (w *writing) elsewhere(a *ledger.Act) error {
	plate := a.Text("vin") + a.Text("serial")
	if plate != w.coach.Plate {
		return fmt.Errorf("%w: these notes are of coach %s, the intake says %s", ErrRefused, w.coach.Plate, plate)
	}
	return nil
}

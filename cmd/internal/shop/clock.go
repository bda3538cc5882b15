package shop

import (
	"fmt"
	"time"
)

const tooFarAhead = 60 * 24 * time.Hour // common practice, no source

// Clock compares this machine's clock with the entries of a coach and of the
// shop, as Ink does: whoever asks people asks before they unlock a key. The
// error is ErrClock.
func (s *Shop) Clock(plate string) error {
	c, err := s.byPlate(plate)
	if err != nil {
		return err
	}
	return s.clock(c)
}

// clock compares this machine's clock with the newest entries: behind those of
// the coach, or more than 60 days ahead of those of the shop, it is asked for.
func (s *Shop) clock(c *Coach) error {
	now := s.Now().UTC()
	if c.Ledger != nil {
		last := c.Ledger.Last()
		if at, err := time.Parse(time.RFC3339, last.Line.At); err == nil && now.Before(at) {
			return fmt.Errorf("%w: this machine says %s; entry %d was written %s", ErrClock, s.stamp(), last.No.N, last.Line.At)
		}
	}
	newest, err := s.Book.NewestAt()
	if err != nil {
		return err
	}
	if at, err := time.Parse(time.RFC3339, newest); err == nil && now.Sub(at) > tooFarAhead {
		return fmt.Errorf("%w: this machine says %s; the newest entry in the shop was written %s", ErrClock, s.stamp(), newest)
	}
	return nil
}

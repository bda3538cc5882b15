package rules

import (
	"lapmark/ledger"
	"lapmark/ledger/place"
)

const (
	keyPhoto       = "photo-twice"
	saysPhoto      = "The same photo stands at {place} and {place}."
	saysPhotoCoach = "The same photo is in the file of {coach}."
)

var photoRules = []Rule{
	{Key: keyPhoto, Degree: Stopped, Sentences: []string{saysPhoto, saysPhotoCoach}, Look: photoTwice},
}

// photoTwice notes a photo that stands at another place of this coach already,
// and stops one that another coach of the shop has.
func photoTwice(c Case) []Outcome {
	photos := c.Act.Photos()
	if len(photos) == 0 {
		return nil
	}
	var out []Outcome
	here, region := standsAt(c.Replay, c.Act)
	for _, photo := range photos {
		if c.Shown != nil {
			if coach, shown := c.Shown(photo); shown {
				out = appendOnce(out, Outcome{Rule: keyPhoto, Degree: Stopped, Sentence: fill(saysPhotoCoach, coach)})
			}
		}
		if c.Replay == nil || here == "" {
			continue
		}
		for _, a := range c.Replay.WithPhoto(photo) {
			there, other := standsAt(c.Replay, a)
			if there != "" && a.No != c.Act.No && c.Act.Follows(a) && !region.Overlaps(other) {
				out = appendOnce(out, Outcome{Rule: keyPhoto, Degree: Noted, Sentence: fill(saysPhoto, there, here)})
			}
		}
	}
	return out
}

// standsAt is where an act is, in words and worked out; "" of one that says no
// place, or one not measured yet.
func standsAt(r *ledger.Replay, a *ledger.Act) (says string, region place.Region) {
	if r == nil {
		return "", place.Region{}
	}
	places := ledger.PlacesIn(a.Kind, a.Body)
	region, err := r.Region(a, places)
	if err != nil || len(places) == 0 {
		return "", place.Region{}
	}
	return sayPlaces(places), region
}

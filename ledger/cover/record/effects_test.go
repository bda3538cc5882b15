package record_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/cover/record"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// coach is a small ledger in the making, signed by the demo's keys: K1 is the
// house, LF1 a guest.
type coach struct {
	t *testing.T
	c *ledger.Coach
}

// write adds entries, one a line, under headings "on DAY" and "key NAME".
func (w *coach) write(text string) *coach {
	w.t.Helper()
	key, h := "K1", sheet.Heading{Coach: "TB78-1133", Zone: "+00:00"}
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		line = strings.TrimSpace(line)
		if day, ok := strings.CutPrefix(line, "on "); ok {
			h.Day = day
			continue
		}
		if name, ok := strings.CutPrefix(line, "key "); ok {
			key = name
			continue
		}
		w.entry(key, line, h)
	}
	return w
}

func (w *coach) entry(key, line string, h sheet.Heading) {
	w.t.Helper()
	d, err := sheet.ReadLine(line, h)
	require.NoError(w.t, err, line)
	names := ledger.Names{
		No: func(string) (ledger.No, bool) { return ledger.No{}, false }, Tag: func(ledger.No) string { return "" },
		Photo: func(string) (string, bool) { return strings.Repeat("ab", 32), true },
	}
	if len(w.c.Entries) > 0 {
		r := w.replay()
		names.No, names.Last = r.Tagged, int64(len(w.c.Entries))
	}
	body, err := d.Resolve(names)
	require.NoError(w.t, err, line)
	if d.Kind == "intake" {
		body["house"], body["recovery"] = keyring.DemoSigner("K1").Public().Line(), keyring.DemoSigner("R").Public().Fingerprint()
		body["nonce"] = strings.Repeat("0", 32)
	}
	encoded, err := format.Encode(body)
	require.NoError(w.t, err)
	signer := keyring.DemoSigner(key)
	l1, err := format.Line{
		At: "2030-01-01T00:00:00Z", Body: encoded, Key: signer.Public().Fingerprint(), Kind: d.Kind, Prev: w.c.Newest(), V: 1,
	}.Append(nil)
	require.NoError(w.t, err)
	sig, err := signer.Sign(ledger.EntryNamespace, append(append([]byte{}, l1...), '\n'))
	require.NoError(w.t, err)
	leaf, err := format.Leaf(l1, sig)
	require.NoError(w.t, err)
	require.NoError(w.t, w.c.Extend(leaf, sshsig.Verify), line)
}

func (w *coach) replay() *ledger.Replay { return ledger.NewReplay(w.c, nil) }

// begun is a coach whose rear half was relaid in spring 2020 and certified.
func begun(t *testing.T) *coach {
	t.Helper()
	return (&coach{t, ledger.NewCoach()}).write(`
on 2020-03-01
intake: serial TB78-1133; builder "Marrowby"; model "Finch 14"; year 1974; deck length 4000 mm, front 2000 mm, rear 2000 mm; opening V1, roof-vent, centre 3000 aft, off 0, clear 200 x 200 mm; holder holder-1; papers-shown none; made-safe none; signer "Thornwick Roofs", in "Eel Pie"; by desk
finding F1: split-sealant; at 1000-1100 aft 0-100 R; with length 100 mm; on-the-face; no-need; by hand-1
on 2020-03-05
decision: leave; answers F1; at 1000-1100 aft 0-100 R; given phone, on 2020-03-04; by desk
on 2020-03-10
work: lay-membrane at 2000-4000 aft full width; refit-fitting at V1; by hand-1
certificate T-1: holder holder-1; title limited; line 1, watertight-membrane, at full length 1000 L-1000 R, from 2020-04-01, for 60 months, full 60 months; line 2, watertight-fitting, at V1, from 2020-04-01, for 60 months, full 60 months, upkeep; numbers report-days 30 d, notice-days 45 d, transfers-most 1, margin 300 mm, tie-in-reach 75 mm, touch 10 mm, declare-days 60 d, upkeep-every 12 months, upkeep-early 90 d, upkeep-grace 60 d, upkeep-missed-most 1; conditions report-within; exclusions hail; shop-side bad-weld; rules 1; by foreman`)
}

// leak asks about a leak on a day, at a point; the ground that leads.
func (w *coach) leak(day string, aft, off int64) string {
	w.t.Helper()
	q := cover.Question{
		Kind: cover.KindLeak, Noticed: on(w.t, day), Reported: on(w.t, day), Entries: []cover.Entry{{At: cover.Point{Aft: aft, Off: off}}},
	}
	a, err := cover.Ask(record.Facts(w.replay(), ledger.No{}), q)
	require.NoError(w.t, err)
	if a[0].Lead == cover.KeyCauseOpen {
		return a[0].Grounds[1].Text()
	}
	return a[0].Grounds[0].Text()
}

// The effect of each entry that moves cover, member by member of COVER 1.
func TestEntriesMoveCover(t *testing.T) {
	const field, fitting = "T-1/L1/field", "T-1/L2/V1"
	for name, c := range map[string]struct {
		entries  string
		day      string
		aft, off int64
		want     string
	}{
		"nothing":              {"", "2021-03-01", 3500, 500, "in-force " + field + " 11 months"},
		"before the first day": {"", "2020-03-20", 3500, 500, "before-first-day " + field + " 2020-04-01"},
		"before the work":      {"", "2020-03-09", 3500, 500, "older-than-work T-1 2020-03-10"},
		"left by decision":     {"", "2021-03-01", 1050, 50, "left-trouble " + field + " 2020-03-05"},
		"left, mended": {
			"on 2021-01-10\nwork: cap-seal at 1000-1100 aft 0-100 R; by hand-1",
			"2021-03-01", 1050, 50, "in-force " + field + " 11 months",
		},
		"left, mended too late": {
			"on 2021-03-02\nwork: cap-seal at 1000-1100 aft 0-100 R; by hand-1",
			"2021-03-01", 1050, 50, "left-trouble " + field + " 2020-03-05",
		},
		"withdrawn, told": {
			"on 2020-06-02\nstanding: withdrawn; lines T-1; from 2020-06-01; told phone, on 2020-06-05; by desk",
			"2020-06-05", 3500, 500, "withdrawn T-1 2020-06-05",
		},
		"withdrawn, noticed before it was told": {
			"on 2020-06-02\nstanding: withdrawn; lines T-1; from 2020-06-01; told phone, on 2020-06-05; by desk",
			"2020-06-04", 3500, 500, "in-force " + field + " 2 months",
		},
		"ended by the holder": {
			"on 2020-06-02\nstanding: ended; holder-let-go; lines T-1 L1; from 2020-07-01; told phone, on 2020-06-02; by desk",
			"2020-07-01", 3500, 500, "ended-by-word " + field + " 2020-07-01",
		},
		"declared work": {
			"on 2020-09-01\nlater-work: done 2020-08-01; whose other-shop; known paper, what \"bill\"; solar-mount at 3400-3420 aft 400-420 R layer membrane; photo a.jpg; by desk",
			"2020-10-01", 3500, 410, "in-force " + field + " 6 months",
		},
		"declared work, its tie-in": {
			"on 2020-09-01\nlater-work: done 2020-08-01; whose other-shop; known paper, what \"bill\"; solar-mount at 3400-3420 aft 400-420 R layer membrane; photo a.jpg; by desk",
			"2020-10-01", 3495, 410, "taken-by-others " + field + " other-shop 75 mm",
		},
		"the same told after 61 days": {
			"on 2020-10-01\nlater-work: done 2020-08-01; whose other-shop; known paper, what \"bill\"; solar-mount at 3400-3420 aft 400-420 R layer membrane; photo a.jpg; by desk",
			"2020-11-01", 3500, 410, "near-others-work " + field + " other-shop 80 mm",
		},
		"work guessed from signs": {
			"on 2020-08-02\nlater-work: done 2020-08-01; whose unknown; known from-signs, what \"new screws\"; solar-mount at 3400-3420 aft 400-420 R layer membrane; photo a.jpg; by desk",
			"2020-11-01", 3410, 410, "others-opening " + field + " unknown",
		},
		"work without a photo of each place": {
			"on 2020-08-02\nlater-work: done 2020-08-01; whose other-shop; known paper, what \"bill\"; solar-mount at 3400-3420 aft 400-420 R layer membrane, at 3600-3620 aft 400-420 R layer membrane; photo a.jpg; by desk",
			"2020-11-01", 3500, 410, "near-others-work " + field + " other-shop 80 mm",
		},
		"work in another layer": {
			"on 2020-08-02\nlater-work: done 2020-08-01; whose unknown; known from-signs, what \"x\"; solar-mount at 3400-3420 aft 400-420 R layer frame; by desk",
			"2020-11-01", 3410, 410, "in-force " + field + " 7 months",
		},
		"taken back": {
			"on 2020-08-02\nlater-work: done 2020-08-01; whose unknown; known from-signs, what \"x\"; solar-mount at 3400-3420 aft 400-420 R layer membrane; by desk\n" +
				"on 2020-09-01\nstanding: taken-back; lines T-1 L1; at 3300-3500 aft 300-500 R; from 2020-09-01; by desk",
			"2020-11-01", 3410, 410, "in-force " + field + " 7 months",
		},
		"a guest's work": {
			"on 2020-08-01\nkey LF1\nwork: patch at 3400-3420 aft 400-420 R layer membrane; signer \"Low Ferry Coachworks\", in \"Low Ferry\"; by lf-foreman",
			"2020-11-01", 3410, 410, "in-force " + field + " 7 months",
		},
		"a guest's work, adopted": {
			"on 2020-08-01\nkey LF1\nwork: patch at 3400-3420 aft 400-420 R layer membrane; signer \"Low Ferry Coachworks\", in \"Low Ferry\"; by lf-foreman\n" +
				"key K1\non 2020-08-20\nremark: adopts #6; by desk",
			"2020-11-01", 3410, 410, "taken-by-others " + field + " Low Ferry Coachworks 0 mm",
		},
		"no upkeep": {"", "2021-07-01", 3000, 0, "upkeep-paused " + fitting + " 2021-06-01..open"},
		"upkeep by the shop": {
			"on 2021-04-01\nupkeep: done-by our-shop; lines T-1 L2; done at V1; by hand-1",
			"2021-07-01", 3000, 0, "in-force " + fitting + " 15 months",
		},
		"upkeep by the holder, no photo": {
			"on 2021-04-01\nupkeep: done-by holder; lines T-1 L2; done at V1; by desk",
			"2021-07-01", 3000, 0, "upkeep-paused " + fitting + " 2021-06-01..open",
		},
		"upkeep by the holder with its photo": {
			"on 2021-04-01\nupkeep: done-by holder; lines T-1 L2; done at V1, photo v1.jpg; by desk",
			"2021-07-01", 3000, 0, "in-force " + fitting + " 15 months",
		},
		"resealed by the holder, with what is not said": {
			"on 2021-04-01\nupkeep: done-by holder; lines T-1 L2; resealed at V1, photo v1.jpg; by desk",
			"2021-07-01", 3000, 0, "upkeep-paused " + fitting + " 2021-06-01..open",
		},
		"resealed by the holder": {
			"on 2021-04-01\nupkeep: done-by holder; lines T-1 L2; resealed at V1, material lap-sealant, photo v1.jpg; by desk",
			"2021-07-01", 3000, 0, "in-force " + fitting + " 15 months",
		},
		"upkeep that was of another coach": {
			"on 2021-04-01\nupkeep: done-by our-shop; lines T-1 L2; done at V1; by hand-1\ncorrection: answers #6; not-this-coach; by foreman",
			"2021-07-01", 3000, 0, "upkeep-paused " + fitting + " 2021-06-01..open",
		},
		"upkeep left a place": {
			"on 2021-04-01\nupkeep: done-by our-shop; lines T-1 L2; left at V1; by hand-1",
			"2021-05-01", 3000, 0, "left-trouble " + fitting + " 2021-04-01",
		},
		"sold and told late": {
			"on 2020-10-01\ntransfer: sold 2020-08-01; told phone, on 2020-10-01; from-holder holder-1; to-holder holder-2; by desk",
			"2020-09-20", 3500, 500, "sale-paused " + field + " 2020-09-16..2020-09-30",
		},
		"a claim of the new holder is telling": {
			"on 2020-10-01\ntransfer: sold 2020-08-01; told phone, on 2020-10-01; from-holder holder-1; to-holder holder-2; by desk\n" +
				"claim C1: leak; noticed 2020-09-01; reported phone, on 2020-09-02; at V1; holder holder-2; by desk",
			"2020-09-20", 3500, 500, "in-force " + field + " 5 months",
		},
		"sold twice": {
			"on 2020-08-01\ntransfer: sold 2020-08-01; told phone, on 2020-08-01; from-holder holder-1; to-holder holder-2; by desk\n" +
				"on 2020-11-01\ntransfer: sold 2020-11-01; told phone, on 2020-11-01; from-holder holder-2; to-holder holder-3; by desk",
			"2020-11-01", 3500, 500, "ended-by-sale " + field + " 2020-11-01",
		},
		"sold, the same keeper": {
			"on 2020-08-01\ntransfer: sold 2020-08-01; told phone, on 2020-08-01; from-holder holder-1; to-holder holder-2; by desk\n" +
				"on 2020-11-01\ntransfer: sold 2020-11-01; told phone, on 2020-11-01; from-holder holder-2; to-holder holder-3; same-keeper; by desk",
			"2020-11-01", 3500, 500, "in-force " + field + " 7 months",
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := begun(t)
			if c.entries != "" {
				w.write(c.entries)
			}
			require.Equal(t, c.want, w.leak(c.day, c.aft, c.off))
		})
	}
}

const second = "certificate T-2: holder holder-1; title limited; line 1, watertight-membrane, at 3000-4000 aft full width, from 2021-01-01, for 12 months, full 12 months; numbers report-days 30 d; conditions report-within; exclusions hail; shop-side bad-weld; rules 1; "

// A certificate beside runs along; one instead takes the place, for good.
func TestBesideAndInstead(t *testing.T) {
	w := begun(t).write("on 2020-12-20\nwork: lay-membrane at 3000-4000 aft full width; by hand-1\n" + second + "beside T-1; by foreman")
	require.Equal(t, "in-force T-2/L1/field 2 months", w.leak("2021-03-15", 3500, 500))
	require.Equal(t, "in-force T-1/L1/field 23 months", w.leak("2022-03-15", 3500, 500))
	w = begun(t).write("on 2020-12-20\nwork: lay-membrane at 3000-4000 aft full width; by hand-1\n" + second + "instead-of T-1 L1; by foreman")
	require.Equal(t, "in-force T-2/L1/field 2 months", w.leak("2021-03-15", 3500, 500))
	require.Equal(t, "expired T-2/L1/field 2021-12-31", w.leak("2022-03-15", 3500, 500))
	require.Equal(t, "in-force T-1/L1/field 23 months", w.leak("2022-03-15", 2500, 500), "where the new one does not reach")
}

package say_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report"
	"lapmark/report/say"
)

// Sentences of the demo, written by hand from its sheets and read aloud.
func TestSentencesOfTheDemo(t *testing.T) {
	r, all := acts(t)
	for no, want := range map[int]string{
		2: `Hall air: air 16.0 °C, humidity 64.0 %. Instrument: hall meter. By hand-1.`,
		6: `Pins, bay 9 left: 31.0 %; bay 9 right: 24.5 %; bay 8 left: 27.0 %; bay 10 left: 8.1 %; bay 6 middle: 16.8 %; ` +
			`bay 3 left: 11.2 %. Instrument: pin meter 1. Scale: softwood. Ground 15.0 °C. By hand-1.`,
		8: `Fitting taken off at A1, V2, H1, P1 and G1; stripped at 3700–7400 aft, full width, coating and skin. ` +
			`For entry 7. By hand-1 and hand-2.`,
		9: `Rot at the rear header, 900 L–250 R, in the frame; before it is driven. 32 of 45 mm deep, measured. ` +
			`Cause: past a joint, seen. Whose hand: the factory; from signs: "first-fit sealant under the coat". 1 photo. ` +
			`Note: "bedding butyl of the rear joint 12 mm short". By foreman.`,
		11: `Delamination of ply and core at 5000–7400 aft, full width, in the core; before it stands out in rain. Seen. ` +
			`Cause: past a joint, judged. 1 photo. By foreman.`,
		15: `Not looked at: 0–3700 aft, full width, deck, core, inner ply and frame. ` +
			`Why: "not opened at the holder's wish". By foreman.`,
		16: `Findings given out to the holder (holder-1) by mail, as of 20 March 2020. To name: Adela Brunskog. By desk.`,
		19: `The holder (holder-1) chose: the holder does it, at 4500–7400 aft, full width, lining. ` +
			`Said in person on 23 March 2020. Told: "The lining is the owner's own work and not in the warranty." ` +
			`Signature: picture signed-19. By foreman.`,
		21: `Came in: lot X-20-06, XPS foam, 6 m² in 4 packs, Dunmerrow "rigid board", maker's lot D 0219, 38 mm thick, ` +
			`size 600 × 2500 mm, density 33 kg/m³. By desk.`,
		26: `Foam coupon, lots L-20-031 and X-20-06, two-part PU glue, onto XPS foam: 0 mm lost, for 24 h, passed; ` +
			`bond coupon, lots L-20-031 and X-20-06, two-part PU glue, onto XPS foam: foam fails, passed. By hand-2.`,
		30: `Deck laid at 7340–7400 aft, 1000–1100 R, with 0.006 m² of lot P-20-02, 4 mm thick. It hides what is under it. ` +
			`1 photo. The rule closing-too-wet was set aside: "edge member under open rail, dries outward; test plug left; ` +
			`pin at first upkeep" (foreman). By hand-1.`,
		37: `Cure of entry 35. 10 April 2020 09:30: air 16.0 °C. Source: thermometer. Press-off released after 12.17 h of cure, ` +
			`reached 10 April 2020 09:17, "hard at the edges, no squeeze-out moves". By foreman.`,
		40: `Tap, 3700–7400 aft, full width, deck and core: none hollow, passed; ` +
			`foot test, 3700–7400 aft, full width: gives 2 mm under 80 kg, passed. By foreman.`,
		43: `Seam probe, W1: 30 and 15 mm open, 3700 mm probed, not passed; W2: nothing open, 1680 mm probed, passed. By foreman.`,
		56: `Upkeep by our shop for Q-0007, lines 4 and 5. Looked at: the left edge, the right edge, the rear joint, A1, V2, H1 ` +
			`and G1; sealed again: P1, with 40 mL of lot 22-0093, 30 mm long. 1 photo. Note: "sealant at P1 was split 30 mm". By hand-1.`,
		58: `Sold on 10 February 2023 by holder-1 to holder-2; the shop was told by message on 2 May 2023. ` +
			`Holder name: Piers Okonta. Holder phone: 0555 0182. By desk.`,
		65: `New house key: the old one may be in other hands; the shop vouches for the entries up to 64. ` +
			`Note: "laptop taken from the van on 2024-03-09". By foreman.`,
		71: `Claim C1 of the holder (holder-3): leak at spot 7050 aft, 450 L, lining; noticed on 11 May 2026, ` +
			`reported by phone on 13 May 2026. Meanwhile: "tarp the same day". ` +
			`Complaint: It is wet again in the lounge, behind the lamp. Claimant phone: 0555 0119. By desk.`,
		73: `What the certificate says to entry 71: covered in part at spot 6900 aft, 500 L, on 11 May 2026, line Q-0007/L1/field, ` +
			`80.0 %; because: in-force Q-0007/L1/field 72 months; Quillstead Roof Works answers; not in it: own-work lining. ` +
			`It rests on entries 19, 53 and 72. This is what the certificate says. ` +
			`Rights the law gives the holder stand beside it. By desk.`,
		74: `The shop decides on entry 73: as the verdict says, at 6660–7325 aft, 200–1025 L. ` +
			`The holder was told by phone on 20 May 2026. The holder agrees. Work price: 858.00 EUR. ` +
			`Shop share: 686.40 EUR. Holder share: 171.60 EUR. By foreman.`,
		84: `Lot 20-0417: do not use it from 11 August 2026 on. Told on 10 August 2026: the maker, by letter. ` +
			`Wrong: "skins over and crazes after five years". By desk.`,
		85: `Private values of entries 1, 16, 17, 18, 19, 53 and 54 are gone: holder name, holder phone, plate, complaint, ` +
			`signature and to name; the person asked for it. By desk.`,
		86: `Handed over to Penny Drift Bodyworks in Gull Hollow: Q-0007, lines 1, 2 and 3; Q-0031. No open claim goes along. ` +
			`Not taken: "goodwill of entry 83". By foreman.`,
		87: `The ledger is taken on, as entry 86 says; own look at the coach: to do. ` +
			`Signed as Penny Drift Bodyworks in Gull Hollow. By pd-foreman.`,
	} {
		require.Equal(t, want, say.Entry(r, all[no-1]), "entry %d", no)
	}
}

// Kinds that the demo does not have.
func TestSentencesOfOtherKinds(t *testing.T) {
	for line, want := range map[string]string{
		`standing: ended; paid-out; lines Q-0044 L1; from 2027-03-01; told phone, on 2027-03-02; by desk`: `Q-0044, line 1: ` +
			`ended from 1 March 2027 on, paid out. The holder was told by phone on 2 March 2027. By desk.`,
		`standing: taken-back; lines Q-0044; at P1; from 2027-03-01; by desk`: `Q-0044: taken into the warranty again at P1 ` +
			`from 1 March 2027 on. By desk.`,
		`take-in: from 60; head 63; count 3; by desk`: `A side branch is taken in: three entries that parted after entry 60, up to 63. By desk.`,
		`same-coach: ledger K3QX7M2PZA4D; head 22; goes-on-here; by desk`: `Ledger K3QX7M2PZA4D is of this coach too, ` +
			`up to its entry 22; new entries go into this one. By desk.`,
		`hand-over: open-claims none; by desk`: `The house closes, and nobody takes its promises over. No open claim goes along. By desk.`,
	} {
		require.Equal(t, want, say.Entry(bare(), note(t, line)))
	}
}

// A single reading stands alone.
func TestOneReading(t *testing.T) {
	a := note(t, `check: pins at bay 9 left, moisture 31.0 %; by hand-1`)
	require.Equal(t, "Pins, bay 9 left: 31.0 %. By hand-1.", say.Entry(bare(), a))
}

// Every label and free text of every entry of the demo is in its sentence, and
// every member is said or knowingly left to the paper itself.
func TestNothingIsDropped(t *testing.T) {
	r, all := acts(t)
	for _, a := range all {
		says := say.Entry(r, a)
		require.True(t, strings.HasSuffix(says, ".") && !strings.Contains(says, ".."), says)
		kind, _ := ledger.KindNamed(a.Kind)
		for _, f := range kind.AllFields() {
			for _, text := range labels(f, a.Body[f.Name]) {
				require.Contains(t, says, text, "entry %s, %s", a.No, f.Name)
			}
		}
		for _, name := range kind.FreeTexts() {
			require.Contains(t, says, r.Opened[a.No][name], "entry %s", a.No)
		}
	}
}

// labels are the open texts in a value.
func labels(f ledger.Field, v format.Value) []string {
	list, many := v.(format.Array)
	if !many {
		list = format.Array{v}
	}
	var out []string
	for _, one := range list {
		switch s, ok := one.(string); {
		case ok && (f.Form == ledger.FormText || f.Form == ledger.FormTag):
			out = append(out, s)
		case f.Form == ledger.FormShape:
			shape, _ := ledger.ShapeNamed(f.Shape)
			o, _ := one.(format.Object)
			for _, member := range shape.Fields {
				out = append(out, labels(member, o[member.Name])...)
			}
		}
	}
	return out
}

// Private values and free texts are said where they are opened, and else not.
func TestPrivateOnlyWhereOpened(t *testing.T) {
	r, all := acts(t)
	shut := bare()
	for _, a := range all {
		for name, value := range r.Opened[a.No] {
			require.NotContains(t, say.Entry(shut, a), value, "%s of entry %s", name, a.No)
			if name != "face" && name != "face-pass-on" {
				require.Contains(t, say.Entry(r, a), value, "%s of entry %s", name, a.No)
			}
		}
	}
}

func TestCorrected(t *testing.T) {
	a := note(t, `check: pins at bay 9 left, moisture 31.0 %; pins at bay 10 left, moisture 28.1 %; instrument "pin meter 2"; by hand-1`)
	results := a.Body["results"].(format.Array)
	a.Corrected = []ledger.Correction{
		{By: ledger.No{N: 14}, At: "/results/1", Old: results[0], New: results[1]},
		{By: ledger.No{N: 15}, At: "/instrument", Old: "pin meter 1", New: "pin meter 2"},
	}
	require.Equal(t, "Pins, bay 9 left: 31.0 %; bay 10 left: 28.1 % (corrected by entry 14). Instrument: pin meter 2. "+
		"By hand-1. Corrected by entry 15: instrument.", say.Entry(bare(), a))
	a.Corrected, a.StruckBy = nil, ledger.No{N: 16}
	require.Contains(t, say.Entry(bare(), a), "Not about this coach, says entry 16.")
}

// What is newer than this tool is shown as it stands, with the fixed sentence.
func TestNewer(t *testing.T) {
	newer := func(word string) string { return report.Fill(report.FixedSays("newer"), "word", word) }
	kind := inked("hovering", `{"by":["hand-1"],"height":3,"private":{"secret":"abc"}}`)
	says := say.Entry(bare(), kind)
	require.Equal(t, newer("hovering")+` {"by":["hand-1"],"height":3}`, says)

	a := inked("remark", `{"answers":[2],"by":["hand-1"],"colour":"blue","happened":"2020-04-01"}`)
	says = say.Entry(bare(), a)
	require.Contains(t, says, `Remark on entry 2. By hand-1. Colour "blue".`)
	require.Contains(t, says, newer("colour"))

	a = inked("finding", `{"by":["hand-1"],"deep":"in-the-core","defect":"glow-worms","happened":"2020-04-01",`+
		`"places":[{"name":"A1","shape":"named"}],"soon":"no-need","sure":"seen","whose":{"whose":"unknown"}}`)
	says = say.Entry(bare(), a)
	require.Contains(t, says, "Glow worms at A1, in the core; no need. Seen.")
	require.Contains(t, says, newer("defect glow-worms"))
	require.Contains(t, says, `Defect "glow-worms".`)
}

// An entry with nothing in it, or with what does not belong there, is said
// without harm, whatever its kind.
func TestHostileBodies(t *testing.T) {
	for _, kind := range ledger.Kinds() {
		empty := &ledger.Act{Kind: kind.Name, Body: format.Object{}}
		say.Entry(bare(), empty)
		for _, v := range []format.Value{"x", int64(-1), true, format.Array{}, format.Array{int64(1), "x"}, format.Object{"x": int64(1)}} {
			body := format.Object{}
			for _, f := range kind.AllFields() {
				body[f.Name] = v
			}
			say.Entry(bare(), &ledger.Act{Kind: kind.Name, Body: body})
		}
	}
}

func TestTrouble(t *testing.T) {
	_, all := acts(t)
	for no, want := range map[int]string{
		3: "standing water, 14 mm deep", 9: "rot, 32 of 45 mm deep", 10: "crushed core, 29 of 38 mm left",
		11: "delamination", 12: "flange 11 of 25 mm", 13: "420 mm of split sealant",
	} {
		require.Equal(t, want, say.Trouble(all[no-1]))
	}
}

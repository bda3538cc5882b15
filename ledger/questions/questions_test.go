package questions_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lapmark/ledger/questions"
	"lapmark/ledger/sheet"
)

var under = sheet.Heading{Coach: "GZ9TF785XEW004137", Day: "2020-03-17", Zone: "+01:00"}

// answered asks for a note and gives the answers, which stand one a line.
func answered(t *testing.T, kind, answers string) *questions.Asking {
	t.Helper()
	a, err := questions.New(kind, under)
	require.NoError(t, err)
	for _, one := range strings.Split(answers, "\n") {
		q, more := a.Next()
		require.True(t, more, "nothing is asked that %q answers", one)
		require.NoError(t, a.Answer(one), "%s: %q", q.Asks, one)
	}
	return a
}

// The lines are those of the list "One line of each kind" in the text language
// of this ledger, and of its demo; what is answered is what they say.
func TestAnswersMakeTheLine(t *testing.T) {
	for _, c := range []struct{ kind, answers, line string }{
		{
			"check", "pins\nbay 9 left\n31\n\n\n\n\nhand 1",
			"check: pins at bay 9 left, moisture 31.0 %; by hand-1",
		},
		{
			"finding", "narrow flange\nR1\n11\n25\n\n\n\nin the skin\nbefore-rain\n\nno time\nhand-1",
			`finding: narrow-flange; at R1; with flange 11 mm, needed 25 mm; in-the-skin; before-rain; no-photo "no time"; by hand-1`,
		},
		{
			"not-looked-at", "0-3700 aft full width\nnot opened at the holder's wish\n\nforeman",
			`not-looked-at: at 0-3700 aft full width; why "not opened at the holder's wish"; by foreman`,
		},
		{
			"decision", "leave\nF7\nphone\n2020-03-21 16:30\n\n\n\ndesk",
			"decision: leave; answers F7; given phone, on 2020-03-21 16:30; by desk",
		},
		{
			"delivery", "26-0091\nlap sealant\n\n\n\n\n1200 ml\n\n\n\ndesk",
			"delivery: lot 26-0091, lap-sealant, amount 1200 ml; by desk",
		},
		{
			"lot-notice", "20-0417\nOstrelle\n2026-08-10\ncrazes\n2026-08-11\n\ndesk",
			`lot-notice: lot 20-0417; from "Ostrelle"; told 2026-08-10; wrong "crazes"; stop-use 2026-08-11; by desk`,
		},
		{
			"work", "curb\nH1\n\n40\n\n\nno\n\nhand-1",
			"work: curb at H1, height 40 mm; by hand-1",
		},
		{
			"work", "fit-core\nbay 9 left\nX-20-06 0.8 m2\nthickness 38\n\n\nyes\ncore.jpg\nhand-1, hand-2",
			"work: fit-core at bay 9 left, uses X-20-06 0.8 m2, thickness 38 mm; hides; photo core.jpg; by hand-1, hand-2",
		},
		{
			"cure", "35\n\n20:30\nair-temp 17\n\n2020-03-18 00:30\nair-temp 14.5\n\n\n\n\nhand-1",
			"cure: answers #35; log 2020-03-17 20:30, air-temp 17.0 C; log 2020-03-18 00:30, air-temp 14.5 C; by hand-1",
		},
		{
			"remark", "bay 2\n\n\nhand-1\nnote\ndog scratched the lining",
			`remark: at bay 2; note "dog scratched the lining"; by hand-1`,
		},
		{
			"standing", "ended\npaid-out\nQ-0044 l1\n\n2027-03-01\nline paid out\nphone\n2027-03-02\n\ndesk",
			`standing: ended; paid-out; lines Q-0044 L1; from 2027-03-01; why "line paid out"; told phone, on 2027-03-02; by desk`,
		},
		{
			"upkeep", "holder\nQ-0007 L4 L5\ndone\nleft-edge, right-edge\n\nresealed\nP1\nlength 30\n\n\n\ndesk",
			"upkeep: done-by holder; lines Q-0007 L4 L5; done at left-edge, at right-edge; resealed at P1, length 30 mm; by desk",
		},
		{
			"claim", "leak\n2026-05-11\nphone\n2026-05-13\nspot 7050 aft 450 L\ntarp\nit drips on the bed\n\ndesk",
			`claim: leak; noticed 2026-05-11; reported phone, on 2026-05-13; at spot 7050 aft 450 L; meanwhile "tarp"; private complaint "it drips on the bed"; by desk`,
		},
		{
			"ruling", "73\nas the verdict\n\nphone\n2026-05-20\nagrees\n\nforeman",
			"ruling: answers #73; as-the-verdict; told phone, on 2026-05-20; holder-says agrees; by foreman",
		},
		{
			"correction", "6\npins at bay 10 left, moisture 8.1 %\npins at bay 10 left, moisture 28.1 %\n\ndigit lost\nread off the sheet\n\nforeman",
			`correction: answers #6; was pins at bay 10 left, moisture 8.1 %; is pins at bay 10 left, moisture 28.1 %; why "digit lost"; found "read off the sheet"; by foreman`,
		},
		{
			"same-coach", "K3QX7M2PZA4D\ngoes on here\nbegun again under the old plate\n\ndesk",
			`same-coach: ledger K3QX7M2PZA4D; goes-on-here; why "begun again under the old plate"; by desk`,
		},
	} {
		a := answered(t, c.kind, c.answers)
		line, err := sheet.Line(a.Draft(), under)
		require.NoError(t, err)
		require.Equal(t, c.line, line)
	}
}

func TestAnswerThatDoesNotFitIsNotTaken(t *testing.T) {
	a := answered(t, "check", "pins\nbay 9 left")
	for answer, why := range map[string]string{
		"wet":  "number: wet is no number of %",
		"31 C": `unit: 31 is written with % behind it`,
	} {
		before, _ := a.Next()
		require.ErrorContains(t, a.Answer(answer), why)
		after, _ := a.Next()
		require.Equal(t, before.Asks, after.Asks)
	}
	require.NoError(t, a.Answer("31"))
}

func TestWhatMustBeSaidIsAskedAgain(t *testing.T) {
	a, err := questions.New("finding", under)
	require.NoError(t, err)
	require.ErrorContains(t, a.Answer(""), "needed")
	require.ErrorContains(t, a.Answer("hail"), "none of the words")
	require.False(t, a.Begun())
}

// An example of an answer is one: a holder is no hand.
func TestExampleOfAHolder(t *testing.T) {
	q, _ := answered(t, "transfer", "2026-11-01\nphone\n2026-11-20").Next()
	require.Equal(t, "from holder", q.Asks)
	require.Equal(t, "holder-1", q.Write)
	q, _ = answered(t, "check", "pins\nbay 9 left\n31\n\n\n\n").Next()
	require.Equal(t, "hand-1", q.Write)
}

func TestMadeKindsAreNotAskedFor(t *testing.T) {
	for _, kind := range []string{"verdict", "certificate", "given-out", "key-change", "stain"} {
		_, err := questions.New(kind, under)
		require.ErrorIs(t, err, questions.ErrKind)
	}
}

// Whatever is answered, taking answers back leads over the same questions, and a
// note taken up again from its lines stands where it stood.
func TestBackAndResume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, err := questions.New(rapid.SampledFrom(questions.Kinds()).Draw(t, "kind"), under)
		require.NoError(t, err)
		var asked []string
		for range rapid.IntRange(0, 12).Draw(t, "answers") {
			q, more := a.Next()
			if !more {
				break
			}
			if a.Answer(answerTo(t, q)) == nil {
				asked = append(asked, q.Asks)
			}
		}
		again, err := questions.Resume(a.Lines(), under)
		require.NoError(t, err)
		require.Equal(t, a.Draft(), again.Draft())
		for i := len(asked) - 1; i >= 0; i-- {
			require.True(t, a.Back())
			q, more := a.Next()
			require.True(t, more)
			require.Equal(t, asked[i], q.Asks)
		}
		require.False(t, a.Back())
	})
}

// answerTo draws an answer, mostly one that fits.
func answerTo(t *rapid.T, q questions.Question) string {
	tries := []string{"", "31", "bay 9 left", "2020-03-16", "F1", "hand-1", "yes", "none", "Q-0007 L1", "a text, with a comma", q.Write}
	for _, w := range q.Words {
		tries = append(tries, w.Name)
	}
	return rapid.SampledFrom(tries).Draw(t, "answer to "+q.Asks)
}

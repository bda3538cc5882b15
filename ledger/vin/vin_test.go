package vin

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/testdata"
)

// Rows of testdata/reference/vin.csv: 49 CFR 565.15 with its sample
// calculation, the regulator's outline, and two libraries named in the rows.
func TestReferenceVIN(t *testing.T) {
	tried := map[string]int{}
	for _, row := range testdata.Reference(t, "vin.csv") {
		_, in, _ := strings.Cut(row.Inputs, "=")
		filled := strings.ReplaceAll(in, "_", "0") // position 9 weighs nothing
		var got string
		switch row.Quantity {
		case "check character":
			got = string(Check(filled).Want)
		case "weighted sum":
			got = strconv.Itoa(Check(filled).Sum)
		case "check digit fits":
			got = yes(Check(in).Good)
		case "well formed":
			got = yes(Form(in) == nil)
		case "character value":
			counts, ok := value(rune(in[0]))
			require.True(t, ok, row.ID)
			got = strconv.Itoa(counts)
		case "position weight":
			place, err := strconv.Atoi(in)
			require.NoError(t, err)
			got = strconv.Itoa(weight(place - 1))
		case "model year":
			early, late, ok := ModelYears(in[0])
			require.True(t, ok, row.ID)
			got = strconv.Itoa(early) + " or " + strconv.Itoa(late)
		case "rule": // a text to read
			continue
		default:
			t.Fatalf("%s: no test for %q", row.ID, row.Quantity)
		}
		require.Equal(t, row.Value, got, row.ID)
		tried[row.Quantity]++
	}
	require.Len(t, tried, 7)
}

// The coaches of the shop: sums and digits worked by hand.
func TestCoachesOfTheShop(t *testing.T) {
	for vin, want := range map[string]Result{
		"GZ9TF785XEW004137": {Sum: 439, Want: 'X', Is: 'X', HasDigit: true, Good: true},
		"GZ9TF785XEW004173": {Sum: 443, Want: '3', Is: 'X', HasDigit: true},
		"GZ9RK6128HB000387": {Sum: 404, Want: '8', Is: '8', HasDigit: true, Good: true},
		"GZ9LM4305CA001902": {Sum: 302, Want: '5', Is: '5', HasDigit: true, Good: true},
		"11111111111111111": {Sum: 89, Want: '1', Is: '1', HasDigit: true, Good: true},
		"GZ9TF785ZEW004137": {Sum: 439, Want: 'X', Is: 'Z'}, // no check digit
	} {
		require.Equal(t, want, Check(vin), vin)
	}
}

func TestNoModelYear(t *testing.T) {
	for _, code := range []byte("IOQUZ0a-") {
		_, _, ok := ModelYears(code)
		require.False(t, ok, "%c", code)
	}
}

func TestFormSaysWhatIsWrong(t *testing.T) {
	for vin, want := range map[string]FormError{
		"":                     {},
		"TB781133":             {Count: 8},
		"GZ9TF785XEW0041370":   {Count: 18},
		"GZ9TF785IEW004137":    {Count: 17, Bad: 'I', Place: 9},
		"GZ9QF785XEW004137":    {Count: 17, Bad: 'Q', Place: 4},
		"GZ9TF785XEWO04137":    {Count: 17, Bad: 'O', Place: 12},
		"gZ9TF785XEW004137":    {Count: 17, Bad: 'g', Place: 1},
		"GZ9TF785XEW00413é":    {Count: 17, Bad: 'é', Place: 17},
		"TB78-1133":            {Count: 9, Bad: '-', Place: 5},
		"GZ9TF785XEW00413\xff": {Count: 17, Bad: '\uFFFD', Place: 17},
	} {
		var got *FormError
		require.ErrorAs(t, Form(vin), &got, vin)
		require.Equal(t, want, *got, vin)
		require.NotEmpty(t, got.Error())
		require.Zero(t, Check(vin), vin)
	}
	require.NoError(t, Form("GZ9TF785XEW004137"))
}

// One character changed is noticed exactly when it counts differently modulo
// 11: every position, every character.
func TestEveryChangedCharacter(t *testing.T) {
	const vin, all = "GZ9TF785XEW004137", "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"
	unseen := 0
	for i := range len(vin) {
		if i == checkPlace {
			continue
		}
		old, _ := value(rune(vin[i]))
		for _, c := range all {
			changed := vin[:i] + string(c) + vin[i+1:]
			now, ok := value(c)
			require.True(t, ok)
			require.Equal(t, now == old, Check(changed).Good, changed)
			if now == old && changed != vin {
				unseen++
			}
		}
	}
	require.Positive(t, unseen) // the blind spots: T as L, F as 6
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

package keyring_test

import (
	"crypto/rand"
	"crypto/sha256"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
)

const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// exampleSheet is the sheet of seed 20…3f in the worked example of the format,
// made by another program of ours.
func exampleSheet() [4]string {
	return [4]string{"40GJ 48S4 4MK2 EJBE", "50MJ MASC 5MQ2 YK1C", "60RK 4CSM 6MV3 ERA8", "70WK MESW 7MZ3 YP1Q"}
}

func TestWorkedExampleSheet(t *testing.T) {
	require.Equal(t, exampleSheet(), keyring.SheetRows(recoverySeed()))
	seed, err := keyring.ReadSheet(exampleSheet())
	require.NoError(t, err)
	require.Equal(t, recoverySeed(), seed)
}

// The rows reckoned again as whole numbers, without a base 32 library.
func TestSheetRowsByArithmetic(t *testing.T) {
	written := func(value *big.Int, long int) string {
		row := make([]byte, long)
		rest := new(big.Int).Set(value)
		for i := range row {
			digit := new(big.Int)
			rest.DivMod(rest, big.NewInt(32), digit)
			row[long-1-i] = alphabet[digit.Int64()]
		}
		return string(row)
	}
	for range 20 {
		seed, err := keyring.NewSeed(rand.Reader)
		require.NoError(t, err)
		for i, row := range keyring.SheetRows(seed) {
			value := new(big.Int).SetBytes(seed[8*i : 8*i+8])
			secret := written(value.Lsh(value, 1), 13)
			sum := sha256.Sum256([]byte(fmt.Sprintf("lapmark recovery row %d:%s", i+1, secret)))
			check := written(big.NewInt((int64(sum[0])<<8|int64(sum[1]))>>1), 3)
			require.Equal(t, secret+check, strings.ReplaceAll(row, " ", ""))
		}
		read, err := keyring.ReadSheet(keyring.SheetRows(seed))
		require.NoError(t, err)
		require.Equal(t, seed, read)
	}
}

func TestSheetIsReadLeniently(t *testing.T) {
	seed := recoverySeed()
	for _, typed := range []string{
		"40gj48s44mk2ejbe", "  40gj-48s4-4mk2-ejbe ", "4OGJ 48S4 4MK2 EJBE", "4ogj 48s4 4mk2 ejbe", "4-0-G-J 48S44MK2EJBE",
	} {
		part, err := keyring.ReadRow(1, typed)
		require.NoError(t, err, typed)
		require.Equal(t, seed[:8], part[:])
	}
	for _, typed := range []string{"50MJ MASC 5MQ2 YKiC", "50MJ MASC 5MQ2 YKlC", "50MJ MASC 5MQ2 YKIC", "50MJ MASC 5MQ2 YKLC"} {
		part, err := keyring.ReadRow(2, typed)
		require.NoError(t, err, typed)
		require.Equal(t, seed[8:16], part[:])
	}
}

// Every single wrong character in every row is refused, with the right row and,
// in more than 19 of 20, the right group; so is every pair of unlike neighbours
// changed over.
func TestSheetFindsTheSlip(t *testing.T) {
	slips, grouped := 0, 0
	for n, row := range exampleSheet() {
		row = strings.ReplaceAll(row, " ", "")
		for at := range row {
			for _, digit := range []byte(alphabet) {
				if digit == row[at] {
					continue
				}
				rows := exampleSheet()
				rows[n] = row[:at] + string(digit) + row[at+1:]
				_, err := keyring.ReadSheet(rows)
				var slip *keyring.RowError
				require.ErrorAs(t, err, &slip)
				require.Equal(t, n+1, slip.Row)
				slips++
				if slip.Group != 0 {
					grouped++
					require.Equal(t, at/4+1, slip.Group, "%s at %d", rows[n], at)
				}
			}
			if at > 0 && row[at] != row[at-1] {
				_, err := keyring.ReadRow(n+1, row[:at-1]+string(row[at])+string(row[at-1])+row[at+1:])
				require.Error(t, err)
			}
		}
	}
	require.Equal(t, 4*16*31, slips)
	require.Greater(t, grouped*20, slips*19)
}

func TestRowErrors(t *testing.T) {
	rows := exampleSheet()
	for name, bad := range map[string]struct {
		n, group int
		typed    string
	}{
		"third group":       {1, 3, "40GJ 48S4 4MX2 EJBE"},
		"a letter not used": {2, 2, "50MJ MUSC 5MQ2 YK1C"},
		"not ASCII":         {2, 4, "50MJ MASC 5MQ2 YKıC"},
		"too short":         {3, 0, "60RK 4CSM 6MV3 ERA"},
		"too long":          {3, 0, "60RK 4CSM 6MV3 ERA88"},
		"too long, odd":     {3, 4, "60RK 4CSM 6MV3 ERA8 U"},
		"empty":             {4, 0, ""},
		"another row":       {4, 0, rows[0]},
		"bad UTF-8":         {4, 1, "\xff0WK MESW 7MZ3 YP1Q"},
	} {
		_, err := keyring.ReadRow(bad.n, bad.typed)
		var slip *keyring.RowError
		require.ErrorAs(t, err, &slip, name)
		require.Equal(t, bad.n, slip.Row, name)
		require.Equal(t, bad.group, slip.Group, name)
		require.Contains(t, err.Error(), fmt.Sprintf("row %d", bad.n), name)
	}
}

// The last of the 13 characters holds one bit that is no part of the seed: a
// row with that bit set is refused even when its check characters fit.
func TestUnusedBitOfARowIsRefused(t *testing.T) {
	secret := "40GJ48S44MK2F" // the row of the example ends 2E; F sets the bit
	sum := sha256.Sum256([]byte("lapmark recovery row 1:" + secret))
	value := int(sum[0])<<8 | int(sum[1])
	check := string([]byte{alphabet[value>>11], alphabet[value>>6&31], alphabet[value>>1&31]})
	_, err := keyring.ReadRow(1, secret+check)
	require.Error(t, err)
}

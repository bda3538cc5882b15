package sshsig_test

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math/big"
	"strings"
	"testing"

	"filippo.io/edwards25519"
	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
)

// groupOrder is L of RFC 8032 section 5.1.
func groupOrder(t *testing.T) *big.Int {
	t.Helper()
	order, ok := new(big.Int).SetString("27742317777372353535851937790883648493", 10)
	require.True(t, ok)
	return order.Add(order, new(big.Int).Lsh(big.NewInt(1), 252))
}

// times reckons [n]P by doubling and adding alone, with no scalar that could
// be reduced on the way.
func times(n *big.Int, point *edwards25519.Point) *edwards25519.Point {
	sum := edwards25519.NewIdentityPoint()
	for bit := n.BitLen() - 1; bit >= 0; bit-- {
		sum.Add(sum, sum)
		if n.Bit(bit) == 1 {
			sum.Add(sum, point)
		}
	}
	return sum
}

func keyFrom(number uint64) sshsig.PublicKey {
	seed := sha256.Sum256(binary.BigEndian.AppendUint64(nil, number))
	return sshsig.PublicKey(ed25519.NewKeyFromSeed(seed[:]).Public().(ed25519.PublicKey))
}

// A key plus each of the seven points of small order other than the identity
// is of mixed order; Go's ed25519 and ssh-keygen take it. The point of order 8
// is that of row SIG-021 of signatures.csv (filippo.io/edwards25519).
func TestKeysOfMixedOrderAreRefused(t *testing.T) {
	known, err := hex.DecodeString("c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a")
	require.NoError(t, err)
	eighth, err := new(edwards25519.Point).SetBytes(known)
	require.NoError(t, err)
	for number := range uint64(4) {
		key := keyFrom(number)
		require.NoError(t, key.Check())
		point, err := new(edwards25519.Point).SetBytes(key[:])
		require.NoError(t, err)
		for range 7 {
			point.Add(point, eighth)
			mixed := sshsig.PublicKey(point.Bytes())
			require.ErrorIs(t, mixed.Check(), sshsig.ErrWeakKey)
		}
		point.Add(point, eighth)
		require.Equal(t, key, sshsig.PublicKey(point.Bytes()), "eight times around")
	}
}

// Every way of writing a point that is not the canonical one (RFC 8032 section
// 5.1.3): y from p to 2^255-1, p = 2^255-19, and -0 for the x of the identity.
// None of these points is of prime order, so only the reason tells that this
// was looked at.
func TestKeysNotWrittenCanonicallyAreRefused(t *testing.T) {
	keys := []sshsig.PublicKey{{0: 1, 31: 0x80}}
	for low := byte(0xED); low != 0; low++ {
		for _, sign := range []byte{0, 0x80} {
			key := sshsig.PublicKey(bytes.Repeat([]byte{0xFF}, 32))
			key[0], key[31] = low, 0x7F|sign
			keys = append(keys, key)
		}
	}
	points := 0
	for _, key := range keys {
		require.ErrorIs(t, key.Check(), sshsig.ErrWeakKey)
		if _, err := new(edwards25519.Point).SetBytes(key[:]); err == nil {
			points++
			require.ErrorContains(t, key.Check(), "canonically")
		}
	}
	require.NotZero(t, points)
}

// Any 32 bytes: Check agrees with [L]A reckoned by doubling and adding.
func TestCheckAgreesWithDoublingAndAdding(t *testing.T) {
	order := groupOrder(t)
	points, good := 0, 0
	for number := range uint64(200) {
		key := sshsig.PublicKey(sha256.Sum256(binary.BigEndian.AppendUint64([]byte("point"), number)))
		point, err := new(edwards25519.Point).SetBytes(key[:])
		if err != nil {
			require.ErrorIs(t, key.Check(), sshsig.ErrWeakKey)
			continue
		}
		points++
		if times(order, point).Equal(edwards25519.NewIdentityPoint()) == 1 {
			good++
			require.NoError(t, key.Check())
		} else {
			require.ErrorIs(t, key.Check(), sshsig.ErrWeakKey)
		}
	}
	require.NotZero(t, good)
	require.Greater(t, points, good)
}

func TestParseLine(t *testing.T) {
	key := keyFrom(1)
	read, err := sshsig.ParseLine(key.Line())
	require.NoError(t, err)
	require.Equal(t, key, read)

	line := key.Line()
	for name, bad := range map[string]string{
		"empty":           "",
		"comment":         line + " shop",
		"line end":        line + "\n",
		"line end inside": line[:40] + "\n" + line[40:],
		"space before":    " " + line,
		"two spaces":      strings.Replace(line, " ", "  ", 1),
		"other type":      strings.Replace(line, "ssh-ed25519", "ssh-rsa", 1),
		"type alone":      "ssh-ed25519",
		"no key":          "ssh-ed25519 ",
		"short":           line[:len(line)-4],
		"long":            line + "AAAA",
		"no base64":       line[:len(line)-1] + "!",
		"inner type":      strings.Replace(line, "AAAAC3NzaC1lZDI1NTE5", "AAAAC3NzaC1lZDI1NTE6", 1),
	} {
		_, err := sshsig.ParseLine(bad)
		require.ErrorIs(t, err, sshsig.ErrMalformed, name)
	}
}

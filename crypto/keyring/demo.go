package keyring

import (
	"crypto/sha256"
	"slices"

	"lapmark/crypto/sshsig"
)

// DemoKey is one of the keys of the demo, which sign nothing real.
type DemoKey struct {
	Name        string
	Fingerprint string
}

// DemoKeys returns the demo keys: K1 and K2 (the house, earlier and later), R
// (its recovery key), LF1, IN1 and PD1 (other shops), R2 (the recovery key of
// PD1).
// Their seeds are known to everybody, so no list takes them in by Add.
func DemoKeys() []DemoKey {
	var keys []DemoKey
	for _, name := range demoNames() {
		keys = append(keys, DemoKey{Name: name, Fingerprint: DemoSigner(name).Public().Fingerprint()})
	}
	return keys
}

// DemoSigner returns the signer of a demo key. It panics as DemoSeed does.
func DemoSigner(name string) sshsig.Signer { return FromSeed(DemoSeed(name)) }

// DemoSeed returns the seed of a demo key. It panics at a name that is not in
// DemoKeys: those names stand in programs, never in what is read.
func DemoSeed(name string) [32]byte {
	if !slices.Contains(demoNames(), name) {
		panic("keyring: no demo key " + name)
	}
	return sha256.Sum256([]byte("lapmark demo key " + name + ", known to everybody"))
}

// IsDemo says whether a key is one of the demo keys.
func IsDemo(key sshsig.PublicKey) bool {
	for _, demo := range DemoKeys() {
		if demo.Fingerprint == key.Fingerprint() {
			return true
		}
	}
	return false
}

func demoNames() []string {
	return []string{"K1", "K2", "R", "R2", "LF1", "IN1", "PD1"}
}

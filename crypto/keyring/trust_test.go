package keyring_test

import (
	"crypto/sha256"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
)

// trustLine is the line of the worked example of the format.
const trustLine = `quillstead namespaces="entry.v1@lapmark,accept.v1@lapmark" ` + houseLine + " Quillstead Roof Works\n"

func quillstead() keyring.Named {
	return keyring.Named{Name: "quillstead", Key: keyring.FromSeed(houseSeed()).Public(), Comment: "Quillstead Roof Works"}
}

func lowFerry() keyring.Named {
	return keyring.Named{Name: "low-ferry", Key: keyring.FromSeed(recoverySeed()).Public(), Comment: "Low Ferry Coachworks"}
}

func TestWorkedExampleTrust(t *testing.T) {
	var list keyring.Trust
	require.NoError(t, list.Add(quillstead()))
	require.Equal(t, trustLine, string(list.Text()))
	read, err := keyring.ParseTrust([]byte(trustLine))
	require.NoError(t, err)
	require.Equal(t, []keyring.Named{quillstead()}, read.Keys())
}

func TestTrustKeepsWhatAPersonWrote(t *testing.T) {
	text := "# keys we vouch for, with thanks to Jörgen\n\n" + trustLine + "#\n\n\n"
	list, err := keyring.ParseTrust([]byte(text))
	require.NoError(t, err)
	require.Equal(t, text, string(list.Text()))

	require.NoError(t, list.Add(lowFerry()))
	require.Equal(t, []keyring.Named{quillstead(), lowFerry()}, list.Keys())
	require.True(t, strings.HasPrefix(string(list.Text()), text))
	again, err := keyring.ParseTrust(list.Text())
	require.NoError(t, err)
	require.Equal(t, list.Keys(), again.Keys())

	require.NoError(t, list.Remove("quillstead"))
	require.Equal(t, []keyring.Named{lowFerry()}, list.Keys())
	require.ErrorIs(t, list.Remove("quillstead"), keyring.ErrNotListed)
	require.NoError(t, list.Remove("low-ferry"))
	require.Equal(t, strings.Replace(text, trustLine, "", 1), string(list.Text()))
}

func TestTrustLookUp(t *testing.T) {
	list, err := keyring.ParseTrust([]byte(trustLine))
	require.NoError(t, err)
	named, ok := list.ByFingerprint(houseFingerprint)
	require.True(t, ok)
	require.Equal(t, quillstead(), named)
	named, ok = list.ByLine(houseLine)
	require.True(t, ok)
	require.Equal(t, quillstead(), named)
	_, ok = list.ByFingerprint(recoveryFingerprint)
	require.False(t, ok)
	_, ok = list.ByLine(houseLine + " ")
	require.False(t, ok)
}

func TestAddRefuses(t *testing.T) {
	var list keyring.Trust
	require.NoError(t, list.Add(quillstead()))
	before := string(list.Text())

	sameName := lowFerry()
	sameName.Name = "quillstead"
	require.ErrorIs(t, list.Add(sameName), keyring.ErrNameTaken)
	sameKey := quillstead()
	sameKey.Name = "quillstead-2"
	require.ErrorIs(t, list.Add(sameKey), keyring.ErrKeyListed)
	weak := lowFerry()
	weak.Key = sshsig.PublicKey{1}
	require.ErrorIs(t, list.Add(weak), sshsig.ErrWeakKey)
	for _, name := range []string{"", "Low-Ferry", "low ferry", "-low", ".low", "löw", "#low", "low\nferry", `a"b`, "low,ferry", "*"} {
		named := lowFerry()
		named.Name = name
		require.Error(t, list.Add(named), "%q", name)
	}
	for _, comment := range []string{"", " ", " Low Ferry", "Low Ferry ", "Low  Ferry", "Low\tFerry", "Low\nFerry", "Low\u202eFerry", "Low\u00a0Ferry", "Low\xffFerry"} {
		named := lowFerry()
		named.Comment = comment
		require.Error(t, list.Add(named), "%q", comment)
	}
	require.Equal(t, before, string(list.Text()), "a refused key leaves no trace")
}

func TestTrustRefusesWithTheLine(t *testing.T) {
	head := "# keys\n\n"
	bad := map[string]string{
		"carriage return":      strings.TrimSuffix(trustLine, "\n") + "\r\n",
		"blank line of spaces": "  \n",
		"space before #":       " # note\n",
		"space before":         " " + trustLine,
		"two spaces":           strings.Replace(trustLine, " ", "  ", 1),
		"tab":                  strings.Replace(trustLine, " ", "\t", 1),
		"no comment":           strings.Replace(trustLine, " Quillstead Roof Works", "", 1),
		"empty comment":        strings.Replace(trustLine, "Quillstead Roof Works", "", 1),
		"no namespaces":        "quillstead " + houseLine + " Quillstead Roof Works\n",
		"one namespace":        strings.Replace(trustLine, ",accept.v1@lapmark", "", 1),
		"more options":         strings.Replace(trustLine, "namespaces", `valid-before="20300101",namespaces`, 1),
		"any namespace":        strings.Replace(trustLine, "entry.v1@lapmark", "*", 1),
		"authority":            strings.Replace(trustLine, "namespaces", "cert-authority,namespaces", 1),
		"two names":            strings.Replace(trustLine, "quillstead ", "quillstead,low-ferry ", 1),
		"pattern":              strings.Replace(trustLine, "quillstead ", "* ", 1),
		"capitals":             strings.Replace(trustLine, "quillstead ", "Quillstead ", 1),
		"other key type":       strings.Replace(trustLine, "ssh-ed25519", "ssh-rsa", 1),
		"key cut":              strings.Replace(trustLine, "VTG4", "", 1),
		"weak key":             strings.Replace(trustLine, houseLine, sshsig.PublicKey{1}.Line(), 1),
		"bad UTF-8":            strings.Replace(trustLine, "Roof", "R\xf6f", 1),
		"bad UTF-8 in a note":  "# J\xf6rgen\n",
		"hidden direction":     strings.Replace(trustLine, "Roof", "\u202eRoof", 1),
		"end of text":          "quillstead\n",
	}
	for name, line := range bad {
		_, err := keyring.ParseTrust([]byte(head + line + trustLine))
		var wrong *keyring.TrustError
		require.ErrorAs(t, err, &wrong, name)
		require.Equal(t, 3, wrong.Line, name)
	}
	_, err := keyring.ParseTrust([]byte(head + strings.TrimSuffix(trustLine, "\n")))
	require.ErrorContains(t, err, "line 3: the line has no line end")
	_, err = keyring.ParseTrust([]byte(trustLine + trustLine))
	require.ErrorIs(t, err, keyring.ErrNameTaken)
	require.ErrorContains(t, err, "line 2")
	_, err = keyring.ParseTrust([]byte(strings.Replace(trustLine, houseLine, sshsig.PublicKey{1}.Line(), 1)))
	require.ErrorIs(t, err, sshsig.ErrWeakKey)
}

// The fingerprints were made without this program: the seed by sha256sum, the
// public key by openssl pkey 3.0.22, the fingerprint by ssh-keygen -l 9.2p1.
func TestDemoKeys(t *testing.T) {
	require.Equal(t, []keyring.DemoKey{
		{Name: "K1", Fingerprint: "SHA256:RYO8yVUcArpTP05/fGkKWv4ZVSBe3H3gyoxM2tWZGn0"},
		{Name: "K2", Fingerprint: "SHA256:Hos6Gl3S/2f2wY9aQ/OU9dxd0iXheWpyY8WUuXfl2zY"},
		{Name: "R", Fingerprint: "SHA256:28iJB+MeUPbpzZlx4v9K980haXGTdILjHjPW4ijji/M"},
		{Name: "R2", Fingerprint: "SHA256:RR7doeSmdEN8FhiVCCC6zNghkMn9urI91Fmtc80Rb64"},
		{Name: "LF1", Fingerprint: "SHA256:uNmLylYE/ZC6RZzVtt8x/ktF0Xbcbr2dsfDMqMOyl7I"},
		{Name: "IN1", Fingerprint: "SHA256:A506lQeUe8Fp+t94KXw+oUzmXBAt/U45B3eMX7qlUuk"},
		{Name: "PD1", Fingerprint: "SHA256:iVDzfcFlOzPokqM/Tyr5NFAzXxci7N2s5NnpOUXjqUQ"},
	}, keyring.DemoKeys())
	for _, demo := range keyring.DemoKeys() {
		signer := keyring.DemoSigner(demo.Name)
		require.Equal(t, demo.Fingerprint, signer.Public().Fingerprint())
		require.Equal(t, keyring.FromSeed(sha256.Sum256([]byte("lapmark demo key "+demo.Name+", known to everybody"))), signer)
		require.True(t, keyring.IsDemo(signer.Public()))
	}
	require.False(t, keyring.IsDemo(quillstead().Key))
	require.Panics(t, func() { keyring.DemoSigner("K3") })
}

// trust refuses demo keys; the demo writes them itself, and they can be read.
func TestDemoKeysAndTrust(t *testing.T) {
	var list, demo keyring.Trust
	for _, key := range keyring.DemoKeys() {
		named := keyring.Named{Name: strings.ToLower(key.Name), Key: keyring.DemoSigner(key.Name).Public(), Comment: "demo"}
		require.ErrorIs(t, list.Add(named), keyring.ErrDemoKey)
		require.NoError(t, demo.AddDemo(named))
	}
	require.Empty(t, list.Text())
	require.Error(t, demo.AddDemo(quillstead()))
	read, err := keyring.ParseTrust(demo.Text())
	require.NoError(t, err)
	require.Len(t, read.Keys(), 7)
}

func FuzzTrust(f *testing.F) {
	f.Add([]byte(trustLine))
	f.Add([]byte("# keys\n\n" + trustLine + "#\n"))
	f.Add([]byte("quillstead namespaces=\"entry.v1@lapmark,accept.v1@lapmark\" ssh-ed25519 A B\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		list, err := keyring.ParseTrust(text)
		if err != nil {
			return
		}
		require.Equal(t, string(text), string(list.Text()))
		again := keyring.Trust{}
		for _, named := range list.Keys() {
			if _, there := again.ByLine(named.Key.Line()); !there && !keyring.IsDemo(named.Key) {
				require.NoError(t, again.Add(named), "what is read can be added")
			}
		}
	})
}

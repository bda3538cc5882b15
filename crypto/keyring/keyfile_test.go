package keyring_test

import (
	"bytes"
	"crypto/ed25519"
	"crypto/rand"
	"encoding/pem"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/crypto/ssh"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
)

// The seeds of the worked example of the format: bytes 00…1f and 20…3f.
func houseSeed() [32]byte    { return countedFrom(0x00) }
func recoverySeed() [32]byte { return countedFrom(0x20) }

func countedFrom(first byte) (seed [32]byte) {
	for i := range seed {
		seed[i] = first + byte(i)
	}
	return seed
}

const (
	houseLine           = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIAOhB7/zzhC+HXDdGOdLwJln5NYwm6UNXx3chmQSVTG4"
	houseFingerprint    = "SHA256:lbmsoA0yIEcEiVDRnMWuzm+nV+3ZEEpVIURqFoeSspg"
	recoveryFingerprint = "SHA256:ICWTIMFqIa1seHwfScxOpzmnnS/35sGRnuqEN5d9eOM"
)

var message = []byte("{\"kind\":\"not-looked-at\",\"v\":1}\n")

// writtenKey returns the path of the example's key under "tar and slate", as
// WriteKey wrote it. It is sealed once for all tests, because sealing is slow
// on purpose.
func writtenKey(t *testing.T) string {
	t.Helper()
	seal.Do(func() {
		path := filepath.Join(t.TempDir(), "house")
		require.NoError(t, keyring.WriteKey(path, houseSeed(), []byte("tar and slate")))
		var err error
		sealed, err = os.ReadFile(path)
		require.NoError(t, err)
	})
	path := filepath.Join(t.TempDir(), "house")
	require.NoError(t, os.WriteFile(path, sealed, 0o600))
	require.NoError(t, os.WriteFile(path+".pub", []byte(houseLine+"\n"), 0o600))
	return path
}

var (
	seal   sync.Once
	sealed []byte
)

func TestWorkedExampleKeys(t *testing.T) {
	house := keyring.FromSeed(houseSeed()).Public()
	require.Equal(t, houseLine, house.Line())
	require.Equal(t, houseFingerprint, house.Fingerprint())
	require.Equal(t, recoveryFingerprint, keyring.FromSeed(recoverySeed()).Public().Fingerprint())
}

func TestNewSeed(t *testing.T) {
	given := recoverySeed()
	seed, err := keyring.NewSeed(bytes.NewReader(given[:]))
	require.NoError(t, err)
	require.Equal(t, given, seed)

	_, err = keyring.NewSeed(bytes.NewReader(given[:31]))
	require.Error(t, err)

	one, err := keyring.NewSeed(rand.Reader)
	require.NoError(t, err)
	other, err := keyring.NewSeed(rand.Reader)
	require.NoError(t, err)
	require.NotEqual(t, one, other)
}

func TestWriteAndUnlock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "house")
	require.NoError(t, keyring.WriteKey(path, houseSeed(), []byte("tar and slate")))
	info, err := os.Stat(path)
	require.NoError(t, err)
	require.Equal(t, fs.FileMode(0o600), info.Mode().Perm())
	info, err = os.Stat(path + ".pub")
	require.NoError(t, err)
	require.Equal(t, fs.FileMode(0o644), info.Mode().Perm())
	public, err := os.ReadFile(path + ".pub")
	require.NoError(t, err)
	require.Equal(t, houseLine+"\n", string(public))

	signer, err := keyring.Unlock(path, []byte("tar and slate"))
	require.NoError(t, err)
	blob, err := signer.Sign(sshsig.EntryNamespace, message)
	require.NoError(t, err)
	line, err := sshsig.Verify(sshsig.EntryNamespace, message, blob)
	require.NoError(t, err)
	require.Equal(t, houseLine, line)

	onlyThese(t, filepath.Dir(path), "house", "house.pub")
}

// onlyThese holds that no temporary file is left in a folder.
func onlyThese(t *testing.T, folder string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var found []string
	for _, entry := range entries {
		found = append(found, entry.Name())
	}
	require.Equal(t, names, found)
}

func TestWriteKeyNeverOverwrites(t *testing.T) {
	for _, taken := range []string{"house", "house.pub"} {
		folder := t.TempDir()
		there := filepath.Join(folder, taken)
		require.NoError(t, os.WriteFile(there, []byte("there before"), 0o600))
		err := keyring.WriteKey(filepath.Join(folder, "house"), houseSeed(), []byte("tar and slate"))
		require.ErrorIs(t, err, fs.ErrExist)
		kept, err := os.ReadFile(there)
		require.NoError(t, err)
		require.Equal(t, "there before", string(kept))
		onlyThese(t, folder, taken)
	}
}

func TestWriteKeyNeedsAPassphrase(t *testing.T) {
	folder := t.TempDir()
	err := keyring.WriteKey(filepath.Join(folder, "house"), houseSeed(), nil)
	require.ErrorIs(t, err, keyring.ErrUnprotected)
	onlyThese(t, folder)
}

func TestUnlockRefuses(t *testing.T) {
	path := writtenKey(t)
	for _, wrong := range []string{"", "tar and slate "} {
		_, err := keyring.Unlock(path, []byte(wrong))
		require.ErrorIs(t, err, keyring.ErrPassphrase, "%q", wrong)
	}
	_, err := keyring.Unlock(path+"-not-there", []byte("tar and slate"))
	require.ErrorIs(t, err, fs.ErrNotExist)
	_, err = keyring.Unlock(path+".pub", []byte("tar and slate"))
	require.ErrorIs(t, err, keyring.ErrNotKeyFile)
	_, err = keyring.Unlock(filepath.Dir(path), []byte("tar and slate"))
	require.Error(t, err)

	big := filepath.Join(t.TempDir(), "big")
	require.NoError(t, os.WriteFile(big, make([]byte, 1<<20), 0o600))
	_, err = keyring.Unlock(big, []byte("tar and slate"))
	require.ErrorIs(t, err, keyring.ErrNotKeyFile)
	require.ErrorContains(t, err, "more than 65536 bytes")
}

func TestUnlockRefusesAKeyWithoutPassphrase(t *testing.T) {
	seed := houseSeed()
	block, err := ssh.MarshalPrivateKey(ed25519.NewKeyFromSeed(seed[:]), "")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "open")
	require.NoError(t, os.WriteFile(path, pem.EncodeToMemory(block), 0o600))
	for _, passphrase := range []string{"", "tar and slate"} {
		_, err = keyring.Unlock(path, []byte(passphrase))
		require.ErrorIs(t, err, keyring.ErrUnprotected)
	}
}

// Somebody who can write the file but does not know the passphrase puts
// another public key in front of the sealed part: the secret would sign under
// a key that is not its own.
func TestUnlockRefusesAForeignPublicKey(t *testing.T) {
	path := writtenKey(t)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	block, _ := pem.Decode(text)
	ours := keyring.FromSeed(houseSeed()).Public()
	foreign := keyring.FromSeed(recoverySeed()).Public()
	require.Equal(t, 1, bytes.Count(block.Bytes, ours[:]))
	block.Bytes = bytes.Replace(block.Bytes, ours[:], foreign[:], 1)
	require.NoError(t, os.WriteFile(path, pem.EncodeToMemory(block), 0o600))
	_, err = keyring.Unlock(path, []byte("tar and slate"))
	require.ErrorIs(t, err, keyring.ErrNotKeyFile)
}

func TestChangePassphrase(t *testing.T) {
	path := writtenKey(t)
	before, err := os.ReadFile(path)
	require.NoError(t, err)

	require.ErrorIs(t, keyring.ChangePassphrase(path, []byte("wrong"), []byte("lead and lath")), keyring.ErrPassphrase)
	require.ErrorIs(t, keyring.ChangePassphrase(path, []byte("tar and slate"), nil), keyring.ErrUnprotected)
	same, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, before, same)

	require.NoError(t, keyring.ChangePassphrase(path, []byte("tar and slate"), []byte("lead and lath")))
	_, err = keyring.Unlock(path, []byte("tar and slate"))
	require.ErrorIs(t, err, keyring.ErrPassphrase)
	signer, err := keyring.Unlock(path, []byte("lead and lath"))
	require.NoError(t, err)
	require.Equal(t, houseLine, signer.Public().Line())
	onlyThese(t, filepath.Dir(path), "house", "house.pub")
}

func TestReadPublic(t *testing.T) {
	folder := t.TempDir()
	read := func(content string) (sshsig.PublicKey, error) {
		path := filepath.Join(folder, "house.pub")
		require.NoError(t, os.WriteFile(path, []byte(content), 0o600))
		return keyring.ReadPublic(path)
	}
	for _, good := range []string{houseLine + "\n", houseLine, houseLine + " roof shop, first floor\n"} {
		key, err := read(good)
		require.NoError(t, err)
		require.Equal(t, houseLine, key.Line())
	}
	for _, bad := range []string{"", "\n", "ssh-ed25519\n", strings.Replace(houseLine, "ed25519", "rsa", 1), "# a key\n" + houseLine} {
		_, err := read(bad)
		require.ErrorIs(t, err, keyring.ErrNotKeyFile, "%q", bad)
	}
	_, err := read(sshsig.PublicKey{1}.Line() + "\n")
	require.ErrorIs(t, err, sshsig.ErrWeakKey)
	_, err = keyring.ReadPublic(filepath.Join(folder, "not-there"))
	require.True(t, errors.Is(err, fs.ErrNotExist))
}

package keyring_test

import (
	"bytes"
	"encoding/base64"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/testdata"
)

// sshKeygen runs ssh-keygen and returns what it prints and whether it agreed.
func sshKeygen(t *testing.T, input []byte, arguments ...string) (string, error) {
	t.Helper()
	testdata.Program(t, "ssh-keygen")
	command := exec.Command("ssh-keygen", arguments...)
	command.Stdin = bytes.NewReader(input)
	output, err := command.CombinedOutput()
	return string(output), err
}

// armour is a blob as a file that ssh-keygen reads.
func armour(blob []byte) string {
	return "-----BEGIN SSH SIGNATURE-----\n" + base64.StdEncoding.EncodeToString(blob) + "\n-----END SSH SIGNATURE-----\n"
}

func writeFile(t *testing.T, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, content, 0o600))
	return path
}

// OpenSSH reads the key file we write: the same public key, the same
// fingerprint, and not with another passphrase.
func TestOpenSSHReadsOurKeyFile(t *testing.T) {
	path := writtenKey(t)
	output, err := sshKeygen(t, nil, "-y", "-P", "tar and slate", "-f", path)
	require.NoError(t, err, output)
	require.Equal(t, houseLine, strings.TrimSpace(output))

	output, err = sshKeygen(t, nil, "-l", "-f", path+".pub")
	require.NoError(t, err, output)
	require.Contains(t, output, houseFingerprint)

	output, err = sshKeygen(t, nil, "-y", "-P", "wrong", "-f", path)
	require.Error(t, err, output)
}

// We read the key file OpenSSH writes, and only the right kind of it.
func TestWeReadKeyFilesOfOpenSSH(t *testing.T) {
	make := func(kind, passphrase string, more ...string) string {
		path := filepath.Join(t.TempDir(), "key")
		arguments := append([]string{"-q", "-t", kind, "-N", passphrase, "-C", "a bench", "-f", path}, more...)
		output, err := sshKeygen(t, nil, arguments...)
		require.NoError(t, err, output)
		return path
	}
	path := make("ed25519", "tar and slate")
	signer, err := keyring.Unlock(path, []byte("tar and slate"))
	require.NoError(t, err)
	public, err := keyring.ReadPublic(path + ".pub")
	require.NoError(t, err)
	require.Equal(t, public, signer.Public())
	_, err = keyring.Unlock(path, []byte("wrong"))
	require.ErrorIs(t, err, keyring.ErrPassphrase)

	_, err = keyring.Unlock(make("ed25519", ""), []byte("tar and slate"))
	require.ErrorIs(t, err, keyring.ErrUnprotected)
	_, err = keyring.Unlock(make("ecdsa", "tar and slate"), []byte("not tried"))
	require.ErrorIs(t, err, keyring.ErrNotEd25519)
	_, err = keyring.Unlock(make("ecdsa", "tar and slate", "-m", "PEM"), []byte("tar and slate"))
	require.ErrorIs(t, err, keyring.ErrNotKeyFile)
}

// ssh-keygen -Y sign gives the bytes that we give: Ed25519 is deterministic
// (RFC 8032 section 5.1.6), so nothing but the same bytes will do.
func TestOpenSSHSignsTheSameBytes(t *testing.T) {
	key := writtenKey(t)
	// ssh-keygen asks for the passphrase on a terminal only, so it gets a
	// copy without one.
	output, err := sshKeygen(t, nil, "-q", "-p", "-P", "tar and slate", "-N", "", "-f", key)
	require.NoError(t, err, output)
	for _, namespace := range []string{sshsig.EntryNamespace, sshsig.AcceptNamespace} {
		path := writeFile(t, "l1", message)
		output, err = sshKeygen(t, nil, "-q", "-Y", "sign", "-f", key, "-n", namespace, path)
		require.NoError(t, err, output)
		theirs, err := os.ReadFile(path + ".sig")
		require.NoError(t, err)
		ours, err := keyring.FromSeed(houseSeed()).Sign(namespace, message)
		require.NoError(t, err)
		require.Equal(t, unwrapped(string(theirs)), armour(ours))
	}
}

// unwrapped joins the base64 lines of an armoured signature; ssh-keygen breaks
// them after 70 characters and reads them either way.
func unwrapped(armoured string) string {
	lines := strings.Split(strings.TrimSuffix(armoured, "\n"), "\n")
	last := len(lines) - 1
	return lines[0] + "\n" + strings.Join(lines[1:last], "") + "\n" + lines[last] + "\n"
}

// ssh-keygen -Y verify agrees with our signatures under a list that we wrote,
// and only for these words, this name, these two namespaces.
func TestOpenSSHVerifiesOurSignatures(t *testing.T) {
	var list keyring.Trust
	require.NoError(t, list.Add(quillstead()))
	require.NoError(t, list.Add(keyring.Named{
		Name: "low-ferry.2", Key: keyring.FromSeed(recoverySeed()).Public(), Comment: "Low Ferry Coachworks",
	}))
	trust := writeFile(t, "trust", append([]byte("# keys we vouch for\n\n"), list.Text()...))
	verify := func(namespace, name, signature string, words []byte) error {
		output, err := sshKeygen(t, words, "-Y", "verify", "-f", trust, "-I", name, "-n", namespace, "-s", signature)
		t.Log(strings.TrimSpace(output))
		return err
	}
	signer := keyring.FromSeed(houseSeed())
	for _, namespace := range []string{sshsig.EntryNamespace, sshsig.AcceptNamespace} {
		blob, err := signer.Sign(namespace, message)
		require.NoError(t, err)
		signature := writeFile(t, "sig", []byte(armour(blob)))
		require.NoError(t, verify(namespace, "quillstead", signature, message))
		require.Error(t, verify(namespace, "low-ferry.2", signature, message))
		require.Error(t, verify(namespace, "quillstead", signature, append([]byte("x"), message...)))
		require.Error(t, verify("file", "quillstead", signature, message))
	}
	blob, err := signer.Sign("file", message)
	require.NoError(t, err)
	signature := writeFile(t, "sig", []byte(armour(blob)))
	require.Error(t, verify("file", "quillstead", signature, message), "the list names two namespaces")
}

// The three entries of the worked example, by a stranger's tool alone.
func TestOpenSSHVerifiesTheWorkedExample(t *testing.T) {
	var list keyring.Trust
	require.NoError(t, list.Add(quillstead()))
	trust := writeFile(t, "trust", list.Text())
	ledger, err := os.ReadFile("../sshsig/testdata/ledger.txt")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(ledger), "\n")
	require.Len(t, lines, 7)
	for i := 0; i < 6; i += 2 {
		blob, err := base64.StdEncoding.DecodeString(strings.TrimSuffix(lines[i+1], "\n"))
		require.NoError(t, err)
		signature := writeFile(t, "sig", []byte(armour(blob)))
		output, err := sshKeygen(t, []byte(lines[i]), "-Y", "verify",
			"-f", trust, "-I", "quillstead", "-n", sshsig.EntryNamespace, "-s", signature)
		require.NoError(t, err, output)
		again, err := keyring.FromSeed(houseSeed()).Sign(sshsig.EntryNamespace, []byte(lines[i]))
		require.NoError(t, err)
		require.Equal(t, blob, again)
	}
}

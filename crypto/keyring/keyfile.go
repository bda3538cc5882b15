package keyring

import (
	"bytes"
	"crypto/ed25519"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/crypto/ssh"

	"lapmark/crypto/sshsig"
)

// What can be wrong with a key file. A file that is not there is
// fs.ErrNotExist, one that is there already fs.ErrExist.
var (
	ErrPassphrase  = errors.New("the passphrase does not open the key")
	ErrUnprotected = errors.New("the key has no passphrase")
	ErrNotEd25519  = errors.New("the key is not an Ed25519 key")
	ErrNotKeyFile  = errors.New("not an OpenSSH key file")
)

// MaxKeyFile is far above any Ed25519 key file (about 460 bytes) and keeps a
// wrong path from filling the memory.
const MaxKeyFile = 1 << 16

// WriteKey writes the key of a seed to path, in the OpenSSH format under the
// passphrase, mode 0600, and its public line to path + ".pub". Neither file
// may be there (fs.ErrExist); after an error neither is. An empty passphrase
// is ErrUnprotected.
func WriteKey(path string, seed [32]byte, passphrase []byte) error {
	sealed, err := seal(seed, passphrase)
	if err != nil {
		return err
	}
	if err := create(path, sealed, 0o600); err != nil {
		return fmt.Errorf("key file: %w", err)
	}
	line := FromSeed(seed).Public().Line() + "\n"
	if err := create(path+".pub", []byte(line), 0o644); err != nil {
		return errors.Join(fmt.Errorf("public key file: %w", err), os.Remove(path))
	}
	return nil
}

// ChangePassphrase puts the key file at path under another passphrase. The
// file is replaced in one step; the key stays the same. Errors as of Unlock,
// and ErrUnprotected for an empty new passphrase.
func ChangePassphrase(path string, old, passphrase []byte) error {
	if len(passphrase) == 0 {
		return ErrUnprotected
	}
	seed, err := open(path, old)
	if err != nil {
		return err
	}
	sealed, err := seal(seed, passphrase)
	if err != nil {
		return err
	}
	if err := replace(path, sealed, 0o600); err != nil {
		return fmt.Errorf("key file: %w", err)
	}
	return nil
}

// Unlock opens a key file. The error wraps ErrPassphrase, ErrUnprotected,
// ErrNotEd25519, ErrNotKeyFile or that of the file system.
func Unlock(path string, passphrase []byte) (sshsig.Signer, error) {
	seed, err := open(path, passphrase)
	if err != nil {
		return nil, err
	}
	return FromSeed(seed), nil
}

// ReadPublic reads a .pub file: one key line, with or without a comment. The
// error wraps ErrNotKeyFile, sshsig.ErrWeakKey or that of the file system.
func ReadPublic(path string) (sshsig.PublicKey, error) {
	text, err := readSmall(path)
	if err != nil {
		return sshsig.PublicKey{}, err
	}
	fields := strings.SplitN(strings.TrimSuffix(string(text), "\n"), " ", 3)
	key, err := sshsig.ParseLine(strings.Join(fields[:min(2, len(fields))], " "))
	if errors.Is(err, sshsig.ErrMalformed) {
		return sshsig.PublicKey{}, fmt.Errorf("%s: %w: no line of an ssh-ed25519 key", path, ErrNotKeyFile)
	}
	if err != nil {
		return sshsig.PublicKey{}, fmt.Errorf("%s: %w", path, err)
	}
	return key, nil
}

func seal(seed [32]byte, passphrase []byte) ([]byte, error) {
	if len(passphrase) == 0 {
		return nil, ErrUnprotected
	}
	block, err := ssh.MarshalPrivateKeyWithPassphrase(ed25519.NewKeyFromSeed(seed[:]), "", passphrase)
	if err != nil {
		return nil, fmt.Errorf("writing the key: %w", err)
	}
	return pem.EncodeToMemory(block), nil
}

// open returns the seed in a key file. What the file says of its public key
// must be what the seed makes: it is not under the passphrase.
func open(path string, passphrase []byte) ([32]byte, error) {
	text, err := readSmall(path)
	if err != nil {
		return [32]byte{}, err
	}
	outside, err := outsideKey(text)
	if err != nil {
		return [32]byte{}, fmt.Errorf("%s: %w", path, err)
	}
	if len(passphrase) == 0 {
		return [32]byte{}, fmt.Errorf("%s: %w", path, ErrPassphrase)
	}
	raw, err := ssh.ParseRawPrivateKeyWithPassphrase(text, passphrase)
	if errors.Is(err, x509.IncorrectPasswordError) {
		return [32]byte{}, fmt.Errorf("%s: %w", path, ErrPassphrase)
	}
	if err != nil {
		return [32]byte{}, fmt.Errorf("%s: %w: %w", path, ErrNotKeyFile, err)
	}
	private, ok := raw.(*ed25519.PrivateKey)
	if !ok {
		return [32]byte{}, fmt.Errorf("%s: %w", path, ErrNotEd25519)
	}
	made := ed25519.NewKeyFromSeed(private.Seed())
	if !made.Equal(*private) || !bytes.Equal(made[ed25519.SeedSize:], outside) {
		return [32]byte{}, fmt.Errorf("%s: %w: its public key is not that of its private key", path, ErrNotKeyFile)
	}
	return [32]byte(private.Seed()), nil
}

// outsideKey returns the 32 bytes of the public key that stand outside the
// sealed part of a key file.
func outsideKey(text []byte) ([]byte, error) {
	_, err := ssh.ParseRawPrivateKey(text)
	var missing *ssh.PassphraseMissingError
	switch {
	case err == nil:
		return nil, ErrUnprotected
	case !errors.As(err, &missing):
		return nil, fmt.Errorf("%w: %w", ErrNotKeyFile, err)
	case missing.PublicKey == nil:
		return nil, fmt.Errorf("%w: an older form of key file", ErrNotKeyFile)
	case missing.PublicKey.Type() != ssh.KeyAlgoED25519:
		return nil, ErrNotEd25519
	}
	wire := missing.PublicKey.Marshal()
	return wire[len(wire)-ed25519.PublicKeySize:], nil
}

func readSmall(path string) (text []byte, err error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	text, err = io.ReadAll(io.LimitReader(file, MaxKeyFile+1))
	if err != nil {
		return nil, err
	}
	if len(text) > MaxKeyFile {
		return nil, fmt.Errorf("%s: %w: more than %d bytes", path, ErrNotKeyFile, MaxKeyFile)
	}
	return text, nil
}

package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
)

var errNoKey = errors.New("no key to sign with")

// signer unlocks the house key: the agent if it holds the key, else the key
// file with its passphrase. It is asked for before anything is locked.
func (e *env) signer(s *shop.Shop) (sshsig.Signer, error) {
	if socket := e.getenv("SSH_AUTH_SOCK"); socket != "" && e.passFD < 0 {
		if key, err := keyring.Agent(socket, s.House); err == nil {
			return key, nil
		}
	}
	path := filepath.Join(s.Folder, "house")
	if _, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("%w: %s is not there, and no agent holds it", errNoKey, path)
	}
	pass, err := e.passphrase("Passphrase of the house key")
	if err != nil {
		return nil, err
	}
	defer clear(pass)
	return keyring.Unlock(path, pass)
}

// openDescriptor takes the descriptor that brings the passphrase, before the
// program opens anything of its own.
func (e *env) openDescriptor() error {
	if e.passFD < 0 {
		return nil
	}
	e.passFile = os.NewFile(uintptr(e.passFD), "passphrase")
	if e.passFile == nil {
		return fmt.Errorf("%w: file descriptor %d is not open", shop.ErrUse, e.passFD)
	}
	if _, err := e.passFile.Stat(); err != nil {
		return fmt.Errorf("%w: file descriptor %d is not open", shop.ErrUse, e.passFD)
	}
	return nil
}

// passphrase comes by prompt or by an open file descriptor, never by argument
// or environment.
func (e *env) passphrase(question string) ([]byte, error) {
	if e.passFD < 0 {
		pass, err := e.console.Secret(question)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", errNoKey, err)
		}
		return pass, nil
	}
	line, err := bufio.NewReader(io.LimitReader(e.passFile, 4096)).ReadString('\n')
	if err != nil && err != io.EOF {
		return nil, fmt.Errorf("%w: file descriptor %d: %w", shop.ErrUse, e.passFD, err)
	}
	return []byte(strings.TrimRight(line, "\r\n")), nil
}

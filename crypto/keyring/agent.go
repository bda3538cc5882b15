package keyring

import (
	"bytes"
	"crypto/ed25519"
	"errors"
	"fmt"
	"net"
	"time"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"lapmark/crypto/sshsig"
)

// What an SSH agent can lack.
var (
	ErrNoAgent       = errors.New("no SSH agent answers")
	ErrAgentLacksKey = errors.New("the SSH agent does not hold the key")
	ErrAgentRefused  = errors.New("the SSH agent did not sign")
)

// agentPatience is how long an agent may take: it may be asking a person
// whether to sign (common practice, no source).
const agentPatience = 2 * time.Minute

// Agent returns a signer for a key held by the SSH agent at a Unix socket (the
// value of SSH_AUTH_SOCK). The agent is asked now whether it holds the key,
// and again for each signature; no connection is kept. The error wraps
// ErrNoAgent, ErrAgentLacksKey or sshsig.ErrWeakKey. Errors of Sign wrap
// ErrNoAgent, ErrAgentLacksKey or ErrAgentRefused, or say that what the agent
// made does not verify.
func Agent(socket string, key sshsig.PublicKey) (sshsig.Signer, error) {
	if err := key.Check(); err != nil {
		return nil, err
	}
	lent := lent{socket: socket, key: key}
	if err := lent.ask(func(agent.ExtendedAgent, ssh.PublicKey) error { return nil }); err != nil {
		return nil, err
	}
	return lent, nil
}

// lent signs with a key that an agent holds.
type lent struct {
	socket string
	key    sshsig.PublicKey
}

func (l lent) Public() sshsig.PublicKey { return l.key }

func (l lent) Sign(namespace string, message []byte) ([]byte, error) {
	var signature *ssh.Signature
	err := l.ask(func(keys agent.ExtendedAgent, key ssh.PublicKey) (err error) {
		signature, err = keys.Sign(key, sshsig.Message(namespace, message))
		if err != nil {
			return fmt.Errorf("%w: %w", ErrAgentRefused, err)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return verified(l.key, namespace, message, signature.Blob)
}

// ask calls the agent, makes sure that it holds the key and hands both on.
func (l lent) ask(what func(agent.ExtendedAgent, ssh.PublicKey) error) (err error) {
	wanted, err := ssh.NewPublicKey(ed25519.PublicKey(l.key[:]))
	if err != nil {
		return fmt.Errorf("%s as an SSH key: %w", l.key.Fingerprint(), err)
	}
	connection, err := net.Dial("unix", l.socket)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrNoAgent, err)
	}
	defer func() { err = errors.Join(err, connection.Close()) }()
	if err := connection.SetDeadline(time.Now().Add(agentPatience)); err != nil {
		return fmt.Errorf("%w: %w", ErrNoAgent, err)
	}
	keys := agent.NewClient(connection)
	listed, err := keys.List()
	if err != nil {
		return fmt.Errorf("%w: %w", ErrNoAgent, err)
	}
	for _, one := range listed {
		if bytes.Equal(one.Marshal(), wanted.Marshal()) {
			return what(keys, wanted)
		}
	}
	return fmt.Errorf("%w: %s", ErrAgentLacksKey, l.key.Fingerprint())
}

package keyring_test

import (
	"crypto/ed25519"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/testdata"
)

// socketPath is short: a Unix socket name has at most 108 bytes on Linux.
func socketPath(t *testing.T) string {
	t.Helper()
	folder, err := os.MkdirTemp("", "a")
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, os.RemoveAll(folder)) })
	return filepath.Join(folder, "s")
}

// openSSHAgent starts ssh-agent and returns its socket once it answers.
func openSSHAgent(t *testing.T) string {
	t.Helper()
	testdata.Program(t, "ssh-agent")
	socket := socketPath(t)
	command := exec.Command("ssh-agent", "-D", "-a", socket)
	command.Env = append(os.Environ(), "SSH_ASKPASS=/bin/false", "SSH_ASKPASS_REQUIRE=force") // who is asked says no
	require.NoError(t, command.Start())
	t.Cleanup(func() {
		require.NoError(t, command.Process.Kill())
		var ended *exec.ExitError
		require.ErrorAs(t, command.Wait(), &ended)
	})
	require.Eventually(t, func() bool {
		connection, err := net.Dial("unix", socket)
		return err == nil && connection.Close() == nil
	}, 10*time.Second, 5*time.Millisecond)
	return socket
}

// lend calls an agent as a person does with ssh-add.
func lend(t *testing.T, socket string, what func(agent.ExtendedAgent) error) {
	t.Helper()
	connection, err := net.Dial("unix", socket)
	require.NoError(t, err)
	require.NoError(t, what(agent.NewClient(connection)))
	require.NoError(t, connection.Close())
}

func privateKey(seed [32]byte) *ed25519.PrivateKey {
	private := ed25519.NewKeyFromSeed(seed[:])
	return &private
}

func TestAgentOfOpenSSH(t *testing.T) {
	socket := openSSHAgent(t)
	house := keyring.FromSeed(houseSeed())

	_, err := keyring.Agent(socket, house.Public())
	require.ErrorIs(t, err, keyring.ErrAgentLacksKey)
	lend(t, socket, func(keys agent.ExtendedAgent) error {
		return keys.Add(agent.AddedKey{PrivateKey: privateKey(recoverySeed())})
	})
	_, err = keyring.Agent(socket, house.Public())
	require.ErrorIs(t, err, keyring.ErrAgentLacksKey)
	lend(t, socket, func(keys agent.ExtendedAgent) error {
		return keys.Add(agent.AddedKey{PrivateKey: privateKey(houseSeed()), Comment: "house"})
	})
	signer, err := keyring.Agent(socket, house.Public())
	require.NoError(t, err)
	require.Equal(t, house.Public(), signer.Public())
	for _, namespace := range []string{sshsig.EntryNamespace, sshsig.AcceptNamespace} {
		theirs, err := signer.Sign(namespace, message)
		require.NoError(t, err)
		ours, err := house.Sign(namespace, message)
		require.NoError(t, err)
		require.Equal(t, ours, theirs)
	}

	lend(t, socket, func(keys agent.ExtendedAgent) error { return keys.RemoveAll() })
	_, err = signer.Sign(sshsig.EntryNamespace, message)
	require.ErrorIs(t, err, keyring.ErrAgentLacksKey)
}

func TestNoAgent(t *testing.T) {
	key := keyring.FromSeed(houseSeed()).Public()
	for _, socket := range []string{"", socketPath(t)} {
		_, err := keyring.Agent(socket, key)
		require.ErrorIs(t, err, keyring.ErrNoAgent)
	}
	_, err := keyring.Agent("", sshsig.PublicKey{1})
	require.ErrorIs(t, err, sshsig.ErrWeakKey)
}

// bentAgent lists one key and lets a function answer for it.
type bentAgent struct {
	agent.Agent
	sign func(data []byte) (*ssh.Signature, error)
}

func (b bentAgent) Sign(_ ssh.PublicKey, data []byte) (*ssh.Signature, error) { return b.sign(data) }

// serve answers at a socket for as long as the test runs.
func serve(t *testing.T, answer agent.Agent) string {
	t.Helper()
	socket := socketPath(t)
	listener, err := net.Listen("unix", socket)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, listener.Close()) })
	go func() {
		for {
			connection, err := listener.Accept()
			if err != nil {
				return // closed at the end of the test
			}
			// The error is the end of the connection, which the caller makes.
			_ = agent.ServeAgent(answer, connection)
		}
	}()
	return socket
}

// What an agent hands back is not believed: it must verify under the key asked
// for.
func TestAgentThatLies(t *testing.T) {
	good := privateKey(houseSeed())
	answers := map[string]func(data []byte) (*ssh.Signature, error){
		"signs with another key": func(data []byte) (*ssh.Signature, error) {
			return &ssh.Signature{Format: "ssh-ed25519", Blob: ed25519.Sign(*privateKey(recoverySeed()), data)}, nil
		},
		"signs other words": func(data []byte) (*ssh.Signature, error) {
			return &ssh.Signature{Format: "ssh-ed25519", Blob: ed25519.Sign(*good, data[1:])}, nil
		},
		"signs too short": func(data []byte) (*ssh.Signature, error) {
			return &ssh.Signature{Format: "ssh-ed25519", Blob: ed25519.Sign(*good, data)[:63]}, nil
		},
	}
	for name, answer := range answers {
		keys := agent.NewKeyring()
		require.NoError(t, keys.Add(agent.AddedKey{PrivateKey: good}))
		signer, err := keyring.Agent(serve(t, bentAgent{keys, answer}), keyring.FromSeed(houseSeed()).Public())
		require.NoError(t, err)
		blob, err := signer.Sign(sshsig.EntryNamespace, message)
		require.Error(t, err, name)
		require.Nil(t, blob)
	}
}

// A key lent with "ask me each time", and the person says no.
func TestAgentThatRefuses(t *testing.T) {
	socket := openSSHAgent(t)
	lend(t, socket, func(keys agent.ExtendedAgent) error {
		return keys.Add(agent.AddedKey{PrivateKey: privateKey(houseSeed()), ConfirmBeforeUse: true})
	})
	signer, err := keyring.Agent(socket, keyring.FromSeed(houseSeed()).Public())
	require.NoError(t, err)
	_, err = signer.Sign(sshsig.EntryNamespace, message)
	require.ErrorIs(t, err, keyring.ErrAgentRefused)
}

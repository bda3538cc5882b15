package shop

import (
	"fmt"
	"sync"

	"lapmark/crypto/sshsig"
)

// proof verifies the signatures of one inking, each while the next are made: a
// fault of memory must not put a bad entry into a ledger. Nothing is written
// before all of them are found good.
type proof struct {
	verifier sshsig.Verifier
	running  sync.WaitGroup
	lock     sync.Mutex
	bad      error
}

// sign signs a line. What a signer hands out before it is verified is verified
// here.
func (p *proof) sign(key sshsig.Signer, message []byte) ([]byte, error) {
	hasty, ok := key.(sshsig.Hasty)
	if !ok {
		return key.Sign(sshsig.EntryNamespace, message)
	}
	blob := hasty.SignUnverified(sshsig.EntryNamespace, message)
	line := key.Public().Line()
	p.running.Go(func() {
		by, err := p.verifier.Verify(sshsig.EntryNamespace, message, blob)
		if err == nil && by != line {
			err = fmt.Errorf("signed by %s, not by %s", by, line)
		}
		if err != nil {
			p.lock.Lock()
			defer p.lock.Unlock()
			p.bad = fmt.Errorf("the signature made does not verify: %w", err)
		}
	})
	return blob, nil
}

// settled waits for all that were made; the error is that of a bad one.
func (p *proof) settled() error {
	p.running.Wait()
	p.lock.Lock()
	defer p.lock.Unlock()
	return p.bad
}

package shop

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"maps"
	"sync"
	"sync/atomic"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
)

// settingChecked holds, coach by coach, the hash of what a look at the whole
// shop found every signature good in.
const settingChecked = "checked"

// remembered are coach files whose signatures were all found good, by the hash
// of their bytes. A look at the whole shop does not verify them again: that
// would be more than half of its work. Whoever signs, gives out or verifies
// does not ask here.
type remembered struct {
	before map[string]string // as the book has it
	mutex  sync.Mutex
	now    map[string]string
}

func (s *Shop) remembered() (*remembered, error) {
	r := &remembered{before: map[string]string{}, now: map[string]string{}}
	text, err := s.Book.Setting(settingChecked)
	if err != nil || text == "" {
		return r, err
	}
	if json.Unmarshal([]byte(text), &r.before) != nil {
		r.before = map[string]string{} // not ours: everything is verified
	}
	return r, nil
}

// keep writes down what was found good. Where the book cannot be written all is
// verified again the next time, and nothing is lost.
func (s *Shop) keep(r *remembered) {
	if maps.Equal(r.before, r.now) {
		return
	}
	if text, err := json.Marshal(r.now); err == nil {
		_ = s.Book.SetSetting(settingChecked, string(text))
	}
}

// good notes that a file was read to its end, with signatures that all were
// good now or before.
func (r *remembered) good(id, hash string) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	r.now[id] = hash
}

// load reads a coach, and verifies its signatures unless the same bytes were
// found good before.
func (r *remembered) load(s *Shop, id string) (*Coach, error) {
	var hash string
	var doubt atomic.Bool
	c, err := s.loadWith(id, func(text []byte, branches [][]byte) ledger.Verify {
		hash = hashOf(text, branches)
		if r.before[id] == hash {
			return namesKey
		}
		var v sshsig.Verifier
		return func(namespace string, message, blob []byte) (string, error) {
			key, err := v.Verify(namespace, message, blob)
			if err != nil {
				doubt.Store(true)
			}
			return key, err
		}
	})
	if err == nil && !doubt.Load() {
		r.good(id, hash)
	}
	return c, err
}

// namesKey says whose signature it is that was found good before.
func namesKey(_ string, _, blob []byte) (string, error) {
	parsed, err := sshsig.Parse(blob)
	if err != nil {
		return "", err
	}
	return parsed.Key.Line(), nil
}

func hashOf(text []byte, branches [][]byte) string {
	h := sha256.New()
	for _, part := range append([][]byte{text}, branches...) {
		sum := sha256.Sum256(part)
		h.Write(sum[:])
	}
	return base64.RawStdEncoding.EncodeToString(h.Sum(nil))
}

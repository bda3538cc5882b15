package ledger

import (
	"iter"
	"runtime"
	"sync"
	"sync/atomic"

	"lapmark/ledger/format"
)

// leaf is one leaf as it was taken off a text, and the key that signed it.
type leaf struct {
	l1, sig, all []byte
	misread      error // why it is no leaf
	key          string
	unsigned     error // why its signature does not hold
}

func readLeaf(text []byte) (l leaf) {
	l.l1, l.sig, l.all, l.misread = format.ReadLeaf(text)
	return l
}

func (l *leaf) verify(verify Verify) {
	if l.misread == nil {
		l.key, l.unsigned = verify(EntryNamespace, l.all[:len(l.l1)+1], l.sig)
	}
}

// block is how many signatures are verified before the chain is followed over
// them: enough to keep every processor busy, and little lost where an entry of
// it does not hold.
const block = 64

// leaves takes the leaves off a text, their signatures verified on all
// processors: they are nearly all that a check costs. The last leaf may be a
// misread one.
func leaves(text []byte, verify Verify) iter.Seq[leaf] {
	return func(yield func(leaf) bool) {
		some := make([]leaf, 0, block)
		for len(text) > 0 {
			some = some[:0]
			for len(text) > 0 && len(some) < block {
				l := readLeaf(text)
				some, text = append(some, l), text[len(l.all):]
				if l.misread != nil {
					text = nil
				}
			}
			verifyAll(some, verify)
			for _, l := range some {
				if !yield(l) {
					return
				}
			}
		}
	}
}

// verifyAll lets each processor verify the next of the leaves until none is
// left.
func verifyAll(some []leaf, verify Verify) {
	var next atomic.Int64
	var working sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(some)) {
		working.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(some)); i = next.Add(1) - 1 {
				some[i].verify(verify)
			}
		})
	}
	working.Wait()
}

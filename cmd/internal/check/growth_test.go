package check

import (
	"runtime"
	"runtime/debug"
	"sync"
	"testing"
	"time"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/testdata"
)

// crowds are ledgers in which very much is said of one entry: each writes them
// up to a number of entries.
var crowds = map[string]func(w *writer, to int64){
	"remarks": each(func(w *writer) { w.add(w.house, "remark", about(2), nil) }),
	"corrections": each(func(w *writer) {
		w.add(w.house, "correction", change(2, "/shows", nil, "n"+ledger.Decimal(w.edge.Size())), nil)
	}),
	"corrections without effect": each(func(w *writer) {
		w.add(w.house, "correction", change(2, "/deep", "no", "yes"), nil)
	}),
	"corrections of corrections": each(func(w *writer) {
		w.add(w.house, "correction", change(w.edge.Size(), "/found", nil, "again"), nil)
	}),
	"struck out": each(func(w *writer) { w.add(w.house, "correction", also(about(2), "not-this-coach", true), nil) }),
	"decisions":  each(func(w *writer) { w.add(w.house, "decision", also(about(2), "choice", "leave"), nil) }),
	"guests":     each(func(w *writer) { w.add(seed("guest"), "finding", findingBody(""), nil) }),
	"adopted":    each(func(w *writer) { w.add(w.house, "remark", also(about(2), "adopts", format.Array{int64(2)}), nil) }),
	"erased":     each(func(w *writer) { w.add(w.house, "erased", also(about(2), "names", format.Array{"no-photo"}), nil) }),
	"certificates": each(func(w *writer) {
		cover := format.Array{format.Object{"cert": "Q-1"}}
		w.add(w.house, "certificate", format.Object{"tag": "Q-1", "covers": cover}, nil)
	}),
	"lent": func(w *writer, to int64) {
		half := to / 2
		each(func(w *writer) {
			w.add(w.house, givenOut, format.Object{"to-work": true, "paper": "bundle", "to": "shop-2"}, nil)
		})(w, half)
		each(func(w *writer) { w.add(w.house, "remark", about(2), nil) })(w, to)
	},
	"taken in": each(func(w *writer) {
		w.add(w.house, "take-in", format.Object{"from": w.headAt(1), "count": int64(1), "branch": "x"}, nil)
	}),
	"disowned": func(w *writer, to int64) {
		var firm []format.Object
		each(func(w *writer) {
			firm = append(firm, w.head())
			w.add(w.house, "remark", nil, nil)
		})(w, to/2)
		each(func(w *writer) {
			w.keyChange("quillstead", "quillstead", format.Object{"firm": firm[max(0, len(firm)-int(to-w.edge.Size()))]})
		})(w, to)
	},
}

func each(next func(w *writer)) func(w *writer, to int64) {
	return func(w *writer, to int64) {
		for w.edge.Size() < to {
			next(w)
		}
	}
}

func about(n int64) format.Object { return format.Object{"answers": format.Array{n}} }

// also is an object with one more member.
func also(o format.Object, name string, v format.Value) format.Object {
	o[name] = v
	return o
}

func change(n int64, at string, from, to format.Value) format.Object {
	c := format.Object{"at": at}
	if from != nil {
		c["old"] = from
	}
	if to != nil {
		c["new"] = to
	}
	return also(about(n), "changes", format.Array{c})
}

// keyEnd is where the key in a signature blob ends (ledger/format, Signature).
const keyEnd = 65

// BenchmarkGrowth says how much more an entry costs in a ledger of 10,000 than
// in one of 1,000, where very much is said of one entry: about 1 where the work
// grows with the entries, and 10 where it grows with their square.
func BenchmarkGrowth(b *testing.B) {
	const few, many = 1_000, 10_000
	for name, write := range crowds {
		var texts [2][]byte
		for i, to := range []int64{few, many} {
			w := newWriter(b, "quillstead")
			w.add(w.house, "finding", findingBody("F1"), map[string]string{"no-photo": "dark"})
			write(w, to)
			texts[i] = w.text
		}
		b.Run(name, func(b *testing.B) {
			defer debug.SetGCPercent(debug.SetGCPercent(-1)) // it costs more in a large heap
			var best [2][2]time.Duration
			for b.Loop() {
				for size, text := range texts {
					for range 3 {
						growth(b, text, &best[size])
					}
				}
			}
			for step, unit := range []string{"replay", "verify"} {
				ratio := float64(best[1][step]) * few / many / float64(best[0][step])
				b.ReportMetric(ratio, unit+"-x")
				if ratio > 5 {
					b.Errorf("%s: %s costs %.1f times as much for each entry", name, unit, ratio)
				}
			}
		})
	}
}

// growth notes how long the replay with its check takes, and the whole answer,
// where that is shorter than before. The replay trusts the signatures, which
// would hide what it costs itself.
func growth(b *testing.B, text []byte, best *[2]time.Duration) {
	b.Helper()
	runtime.GC()
	at := testdata.ProcessorTime()
	lap := func(step int) {
		if took := testdata.ProcessorTime() - at; best[step] == 0 || took < best[step] {
			best[step] = took
		}
		at = testdata.ProcessorTime()
	}
	var lock sync.Mutex
	keys := map[string]string{}
	c, err := ledger.Check(text, func(_ string, _, blob []byte) (string, error) {
		lock.Lock()
		defer lock.Unlock()
		key, known := keys[string(blob[:keyEnd])]
		if known {
			return key, nil
		}
		parsed, err := sshsig.Parse(blob)
		keys[string(blob[:keyEnd])] = parsed.Key.Line()
		return parsed.Key.Line(), err
	})
	if err != nil {
		b.Fatal(err)
	}
	ledger.NewReplay(c, nil)
	lap(0)
	a := Verify(input(b, text))
	lap(1)
	if !a.Whole {
		b.Fatal(a.Why)
	}
}

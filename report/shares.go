package report

import (
	"fmt"
	"strconv"
)

// fallingLines are lines that fall alike: their numbers, and one of them.
type fallingLines struct {
	numbers []int
	line    CertificateLine
}

// shareGroups parts the lines into those borne in full to the end and those
// that fall, the latter by how they fall.
func shareGroups(lines []CertificateLine) (free []int, falling []fallingLines) {
next:
	for _, l := range lines {
		if l.Full >= l.Months {
			free = append(free, l.Number)
			continue
		}
		for i, g := range falling {
			if g.line.Months == l.Months && g.line.Full == l.Full && g.line.Floor == l.Floor {
				falling[i].numbers = append(g.numbers, l.Number)
				continue next
			}
		}
		falling = append(falling, fallingLines{[]int{l.Number}, l})
	}
	return free, falling
}

// shareSteps are the full months a table of shares shows: where it begins to
// fall, each year or so, and where the floor begins (on). At most six.
func shareSteps(l CertificateLine) (steps []int, on bool) {
	last := l.Months - 1
	floor := last
	for floor > l.Full && l.Shares[floor-1] == l.Shares[last] {
		floor--
	}
	step := 12
	for (floor-l.Full)/step > 5 {
		step += 12
	}
	for m := l.Full; m < floor; m += step {
		steps = append(steps, m)
	}
	return append(steps, floor), floor < last
}

// shareTable is the share borne by full months, as one row under its heads.
func shareTable(l CertificateLine) Table {
	steps, on := shareSteps(l)
	head := []Cell{label("full months")}
	row := []Cell{cell("we bear, %")}
	if l.Full > 0 {
		head = append(head, label(fmt.Sprintf("under%s%d", nbsp, l.Full)))
		row = append(row, cell("100"))
	}
	for i, m := range steps {
		says := strconv.Itoa(m)
		if on && i == len(steps)-1 {
			says += nbsp + "on"
		}
		head = append(head, label(says))
		row = append(row, cell(percent(l.Shares[m])))
	}
	columns := make([]Width, len(head))
	columns[len(head)-1] = Rest
	return Table{Place: Place{Whole: true}, Columns: columns, Head: head, Rows: [][]Cell{row}}
}

func label(text string) Cell { return Cell{Spans: []Span{{Text: text, Style: Italic}}} }

func cell(text string) Cell { return Cell{Spans: []Span{{Text: Bind(text)}}} }

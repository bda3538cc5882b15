package carry

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrNoTail says that a file has no tail that can be followed to its end.
var ErrNoTail = errors.New("no tail that can be followed to its end")

const (
	objectLayout   layout = "# 0 obj\n<</Type/Filespec/F("
	embeddedLayout layout = "# 0 obj\n<</Type/EmbeddedFile/Length #>>\nstream\n"
	fileEndLayout  layout = "\nendstream\nendobj\n"
	entryLayout    layout = "@ 00000 n \n"
	trailerLayout  layout = "trailer\n<</Size #/Root # 0 R/Info # 0 R/Prev #>>\nstartxref\n#\n%%EOF"
)

// filespecLayout is the object that names a file; its numbers are its own and
// that of the embedded file.
func filespecLayout(name string) layout {
	return objectLayout + layout(name+")/UF("+name+")/EF<</F # 0 R>>>>\nendobj\n")
}

// catalogLayout is the catalog of the tail; its numbers are its own and those
// of the Filespecs, in the order of their names.
func catalogLayout(ms []member) layout {
	var l strings.Builder
	l.WriteString("# 0 obj\n<</Type/Catalog/Pages 1 0 R/Names<</EmbeddedFiles<</Names[")
	for _, i := range byName(ms) {
		l.WriteString("(" + ms[i].name + ")# 0 R")
	}
	l.WriteString("]>>>>>>\nendobj\n")
	return layout(l.String())
}

// tableLayout is the cross-reference table of a tail with so many files, and
// the trailer up to its last word.
func tableLayout(files int) layout {
	entries := strings.Repeat(string(entryLayout), 2*files)
	return "xref\n# 1\n" + entryLayout + "# #\n" + layout(entries) + trailerLayout
}

// byName returns the places of the members in the byte order of their names,
// the order of a name tree (ISO 32000-1:2008, 7.9.6).
func byName(ms []member) []int {
	order := make([]int, len(ms))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return strings.Compare(ms[a].name, ms[b].name) })
	return order
}

// Paper makes a paper of a face and the files it carries. The same face and
// files give the same bytes, and TakePaper gives them back. Errors: those of
// CheckFace; ErrFiles for a picture or a name that cannot stand in a paper;
// ErrMarker; ErrTooLarge.
func Paper(face []byte, f Files) ([]byte, error) {
	if err := CheckFace(face); err != nil {
		return nil, err
	}
	if len(f.Pictures) > 0 {
		return nil, fmt.Errorf("%w: a paper carries no pictures", ErrFiles)
	}
	ms, err := members(f)
	if err != nil {
		return nil, err
	}
	if err := DefaultLimits().checkSize(len(face) + bytesIn(ms)); err != nil {
		return nil, err
	}
	end, err := readFaceEnd(face)
	if err != nil {
		return nil, err
	}
	paper := append(slices.Clip(face), tail(len(face), end, ms)...)
	if err := DefaultLimits().checkSize(len(paper)); err != nil {
		return nil, err
	}
	if bytes.Count(paper, []byte(marker)) != 1 {
		return nil, fmt.Errorf("%w: %s", ErrMarker, holder(ms, []byte(marker)))
	}
	return paper, nil
}

// tail writes the tail that stands at offset start behind a face with this end.
func tail(start int, end faceEnd, ms []member) []byte {
	out := make([]byte, 0, bytesIn(ms)+512*(len(ms)+1))
	out = append(out, firstLine...)
	catalog := []int{end.root}
	table := []int{end.root, 0, end.size, 2 * len(ms)}
	for i, m := range ms {
		number := end.size + 2*i
		table = append(table, start+len(out))
		out = filespecLayout(m.name).append(out, number, number+1)
		table = append(table, start+len(out))
		out = embeddedLayout.append(out, number+1, len(m.data))
		out = append(out, m.data...)
		out = fileEndLayout.append(out)
	}
	for _, i := range byName(ms) {
		catalog = append(catalog, end.size+2*i)
	}
	table[1] = start + len(out)
	out = catalogLayout(ms).append(out, catalog...)
	table = append(table, end.size+2*len(ms), end.root, end.info, end.table, start+len(out))
	out = tableLayout(len(ms)).append(out, table...)
	return append(out, '\n')
}

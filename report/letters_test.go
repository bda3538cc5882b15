package report_test

import (
	"encoding/xml"
	"fmt"
	"testing"
)

// letter is one character as mutool sees it.
type letter struct {
	page       int
	font       string
	size       float64
	x, y       float64
	line       string
	upper, low float64
}

// letters reads all characters of a paper with mutool.
func letters(t *testing.T, face []byte) []letter {
	t.Helper()
	var doc struct {
		Pages []struct {
			Blocks []struct {
				Lines []struct {
					Box   string `xml:"bbox,attr"`
					Fonts []struct {
						Name  string  `xml:"name,attr"`
						Size  float64 `xml:"size,attr"`
						Chars []struct {
							C string  `xml:"c,attr"`
							X float64 `xml:"x,attr"`
							Y float64 `xml:"y,attr"`
						} `xml:"char"`
					} `xml:"font"`
				} `xml:"line"`
			} `xml:"block"`
		} `xml:"page"`
	}
	if err := xml.Unmarshal([]byte(tool(t, face, "mutool", "draw", "-q", "-F", "stext", "-o", "-", "PAPER")), &doc); err != nil {
		t.Fatal(err)
	}
	var out []letter
	for i, p := range doc.Pages {
		for _, b := range p.Blocks {
			for _, l := range b.Lines {
				var x0, y0, x1, y1 float64
				if _, err := fmt.Sscan(l.Box, &x0, &y0, &x1, &y1); err != nil {
					t.Fatal(err)
				}
				text := ""
				for _, f := range l.Fonts {
					for _, c := range f.Chars {
						text += c.C
					}
				}
				for _, f := range l.Fonts {
					for _, c := range f.Chars {
						out = append(out, letter{i + 1, f.Name, f.Size, c.X, c.Y, text, y0, y1})
					}
				}
			}
		}
	}
	return out
}

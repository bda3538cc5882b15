package demo

import (
	"bytes"
	"hash/fnv"
	"image"
	"image/color"
	"image/jpeg"
)

const (
	wide = 320
	high = 240
)

// draw makes a small picture of its name: a roof from above with a mark on it,
// grey on grey. It is its own travel copy: a JPEG without metadata.
func draw(name string) ([]byte, error) {
	h := fnv.New64a()
	if _, err := h.Write([]byte(name)); err != nil {
		return nil, err
	}
	seed := h.Sum64()
	img := image.NewGray(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			img.SetGray(x, y, color.Gray{Y: shade(x, y, seed)})
		}
	}
	var out bytes.Buffer
	err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 80})
	return out.Bytes(), err
}

// shade gives the grey of one point: ground, roof, rafters, and a blot whose
// place and size come from the name.
func shade(x, y int, seed uint64) uint8 {
	if x < 40 || x >= wide-40 || y < 20 || y >= high-20 {
		return 90
	}
	cx, cy := 60+int(seed%200), 40+int(seed/256%160)
	r := 8 + int(seed/65536%24)
	if dx, dy := x-cx, y-cy; dx*dx+dy*dy < r*r {
		return uint8(40 + seed/16777216%60)
	}
	if (x-40)%24 == 0 {
		return 170
	}
	return uint8(200 + (x*7+y*13+int(seed%31))%16)
}

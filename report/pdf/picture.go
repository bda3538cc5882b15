package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"fmt"
	"image/jpeg"

	"github.com/go-pdf/fpdf"
)

// picture draws a JPEG.
func (c *canvas) picture(content []byte, x, y, width, height float64) {
	sum := sha256.Sum256(content)
	name := hex.EncodeToString(sum[:])
	options := fpdf.ImageOptions{ImageType: "JPG"}
	info := c.doc.RegisterImageOptionsReader(name, options, bytes.NewReader(content))
	if info != nil && !c.pictures[name] {
		c.pictures[name] = true
		if err := inOrder(info, len(c.pictures)); err != nil && c.err == nil {
			c.err = fmt.Errorf("picture: %w", err)
		}
	}
	c.doc.ImageOptions(name, c.left+x, c.top+y, width, height, false, options, 0, "")
}

// inOrder gives a picture its place among those of a document. fpdf puts them in
// the order of their widths, and equally wide ones in no order at all: the nth
// is made wider by n millionths of a pixel, which nothing prints. fpdf lets a
// picture's members be changed in its gob alone.
func inOrder(info *fpdf.ImageInfoType, nth int) error {
	var (
		data, mask, palette          []byte
		n, bits                      int
		width, height, scale, dpi    float64
		colours, filter, decodeParts string
		transparent                  []int
		from, to                     bytes.Buffer
	)
	text, err := info.GobEncode()
	if err != nil {
		return err
	}
	from.Write(text)
	members := []any{&data, &mask, &n, &width, &height, &colours, &palette, &bits, &filter, &decodeParts, &transparent, &scale, &dpi}
	decode, encode := gob.NewDecoder(&from), gob.NewEncoder(&to)
	for _, m := range members {
		if err := decode.Decode(m); err != nil {
			return err
		}
	}
	width += float64(nth) / 1e6
	for _, m := range members {
		if err := encode.Encode(m); err != nil {
			return err
		}
	}
	return info.GobDecode(to.Bytes())
}

// heightOf is the height of a JPEG printed at a width.
func heightOf(content []byte, width float64) (float64, error) {
	size, err := jpeg.DecodeConfig(bytes.NewReader(content))
	if err != nil {
		return 0, fmt.Errorf("picture: %w", err)
	}
	if size.Width == 0 || size.Height == 0 {
		return 0, fmt.Errorf("picture: no size")
	}
	return width * float64(size.Height) / float64(size.Width), nil
}

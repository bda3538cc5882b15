package place

// Lie says where an element lies that is a strip along the deck's outline: at
// which of its two sides and two ends.
type Lie struct{ Left, Right, Front, Rear bool }

// Lies returns where an element of the list elements lies along the outline of
// the deck. An edge, rail or member whose word names no side lies at both. ok
// is false for every other element: without numbers that is the whole deck.
func Lies(part string) (lie Lie, ok bool) {
	switch part {
	case "left-edge":
		return Lie{Left: true}, true
	case "right-edge":
		return Lie{Right: true}, true
	case "gutter-rail", "corner-moulding", "trim-insert", "awning-rail", "topper-rail", "edge-member", "top-plate":
		return Lie{Left: true, Right: true}, true
	case "front-joint", "front-cap", "front-radius", "front-header":
		return Lie{Front: true}, true
	case "rear-joint", "rear-cap", "rear-radius", "rear-header":
		return Lie{Rear: true}, true
	}
	return Lie{}, false
}

// rafterPart is the one element that has a number.
const rafterPart = "rafter"

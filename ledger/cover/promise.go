package cover

import "slices"

// promise is what a line's promise answers for, how narrow a thing it names, and
// the check that shows the cause.
type promise struct {
	name  string
	width int
	kinds []string
	check string
}

// promises, the narrowest first. resulting-damage and materials answer nothing
// by themselves.
var promises = []promise{
	{"watertight-fitting", 0, []string{KindLeak}, "bite"},
	{"watertight-tie-in", 1, []string{KindLeak}, "peel-in-place"},
	{"watertight-edge", 2, []string{KindLeak}, "bite"},
	{"watertight-membrane", 3, []string{KindLeak}, "peel-in-place"},
	{"bond", 4, []string{KindBond}, "bond-coupon"},
	{"sound-frame", 5, []string{KindRot, KindBreak}, "awl"},
	{"no-standing-water", 6, []string{KindStandingWater}, "straight-edge"},
}

func promiseNamed(name string) (promise, bool) {
	i := slices.IndexFunc(promises, func(p promise) bool { return p.name == name })
	if i < 0 {
		return promise{}, false
	}
	return promises[i], true
}

func (l Line) answers(kind string) bool {
	p, ok := promiseNamed(l.Promise)
	return ok && slices.Contains(p.kinds, kind)
}

// layersOf are the layers that other work must have entered to touch a trouble.
var layersOf = map[string][]string{
	KindLeak:          {"coating", "membrane", "skin"},
	KindBond:          {"over-deck", "deck", "core", "inner-ply"},
	KindStandingWater: {"membrane", "over-deck", "deck"},
	KindRot:           {"frame"},
	KindBreak:         {"frame"},
}

// Touches says whether work in these layers touches a kind of trouble.
func Touches(kind string, layers []string) bool {
	return slices.ContainsFunc(layers, func(l string) bool { return slices.Contains(layersOf[kind], l) })
}

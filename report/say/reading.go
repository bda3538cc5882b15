package say

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// Reading says what a check found: "31.0 %", "none hollow", "nothing open, 3.7
// m probed".
func Reading(check string, values format.Object) string {
	lead, said := "", []string{}
	switch check {
	case "pins":
		lead, said = value(values, "moisture", "", ""), []string{"moisture"}
	case "weld-strip", "peel-in-place":
		lead, said = value(values, "peel", "", ""), []string{"peel"}
	case "tap":
		lead, said = orNothing(values, "area", "none hollow", " hollow"), []string{"area"}
	case "seam-probe":
		lead, said = probed(values), []string{"voids", "length"}
	case "awl":
		lead, said = value(values, "depth", "", " deep"), []string{"depth"}
	case "air-and-soap":
		lead, said = orNothing(values, "bubbles", "no bubbles", " bubbles"), []string{"bubbles"}
	case "standing-water-look":
		lead, said = orNothing(values, "depth", "nothing stands", " deep"), []string{"depth"}
	case "fall":
		lead, said = value(values, "slope", "", ""), []string{"slope"}
	case "core-sample":
		lead = water(values)
	case "hose":
		lead, said = value(values, "strip", "strip ", ""), []string{"strip"}
	}
	rest := format.Object{}
	for name, v := range values {
		rest[name] = v
	}
	for _, name := range said {
		delete(rest, name)
	}
	return joined(lead, Values(rest))
}

// joined joins what is not empty by commas.
func joined(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ", ")
}

func value(values format.Object, name, before, behind string) string {
	if values[name] == nil {
		return ""
	}
	return before + Quantity(name, values[name]) + behind
}

func orNothing(values format.Object, name, nothing, behind string) string {
	if values[name] == int64(0) {
		return nothing
	}
	return value(values, name, "", behind)
}

func probed(values format.Object) string {
	length := value(values, "length", "", " probed")
	if list, ok := values["voids"].(format.Array); ok && len(list) == 0 {
		return joined("nothing open", length)
	}
	return joined(value(values, "voids", "", " open"), length)
}

// water is the water of a core sample by mass: (wet - dry)/dry, rounded half
// up to 0.1 %.
func water(values format.Object) string {
	wet, dry := ledger.Int(values, "wet-mass"), ledger.Int(values, "dry-mass")
	if dry <= 0 || wet < dry {
		return ""
	}
	return Quantity("moisture", ((wet-dry)*2000+dry)/(2*dry)) + " water by mass"
}

package trade

// The ranges of through-cure: beads of 2 to 10 mm, a mean temperature of 5 to
// 40 °C (urethane overview of the Adhesive and Sealant Council).
const (
	thinnest Micrometre  = 2_000
	thickest Micrometre  = 10_000
	cool     DeciCelsius = 50
	warm     DeciCelsius = 400
)

// dampEnough is the humidity from which nothing is added to the need of a bead
// and above which nothing is credited.
const dampEnough DeciPercent = 500

// UsualRootDay is k where the maker's sheet gives none: 3 mm per root day,
// shop term k (sheets say 2 to 4, from memory).
const UsualRootDay MicrometrePerRootDay = 3_000

// BeadNeed returns the hours at 23 °C that a bead of sealant needs to cure
// through from one open face: depth grows with the root of time (J. Comyn,
// Int. J. Adhesion and Adhesives 18 (1998) 247-253). The bead is measured at
// its thickest place; the air is damp enough (InDryAir).
//
// It answers ErrRange outside 2 to 10 mm, and for a k that is not above 0.
func BeadNeed(bead Micrometre, k MicrometrePerRootDay) (hours float64, err error) {
	switch {
	case bead < thinnest || bead > thickest:
		return 0, outside("bead", bead)
	case k <= 0:
		return 0, outside("k", k)
	}
	return 24 * float64(bead*bead) / (float64(k) * float64(k)), nil
}

// InDryAir returns what a bead needs in the air that was logged: where the mean
// of the relative humidities is under 50 %, the need grows as 50 to it. Damper
// air is not credited, and an empty log changes nothing.
//
// It answers ErrRange for a humidity that is no percentage, and for a mean of 0.
func InDryAir(need float64, logged []DeciPercent) (hours float64, err error) {
	var sum DeciPercent
	for _, h := range logged {
		if h < 0 || h > 1000 {
			return 0, outside("humidity", tenth(int64(h))+" %")
		}
		sum += h
	}
	enough := dampEnough * DeciPercent(len(logged))
	switch {
	case sum >= enough:
		return need, nil
	case sum == 0:
		return 0, outside("mean humidity", "0.0 %")
	}
	return need * float64(enough) / float64(sum), nil
}

// BeadDose is Dose for the through-cure of a bead. It also answers ErrRange
// when the mean of the logged temperatures lies outside 5 to 40 °C.
func BeadDose(log []Point, sheet CureSheet) (Result, error) {
	r, err := Dose(log, sheet)
	if err != nil || len(log) == 0 {
		return r, err
	}
	var sum DeciCelsius
	for _, p := range log {
		sum += p.Temp
	}
	if n := DeciCelsius(len(log)); sum < cool*n || sum > warm*n {
		return Result{}, outside("mean temperature", sum/n)
	}
	return r, nil
}

// Package trade is the arithmetic of the trade: how far glue and sealant have
// cured in the air they were left in, what that air does to wood and to a cold
// ground, what holds a roof down and what it bears.
//
// It is the only place with floating point. What it answers is rounded the way
// it is kept; decisions are made on what was not rounded. A figure outside the
// range of its formula gets ErrRange and no number. The figures are aids: the
// maker's sheet comes first.
package trade

import (
	"errors"
	"fmt"
)

// ErrRange says that a figure lies outside the range of its formula.
var ErrRange = errors.New("outside the range")

// The units that figures come in, whole numbers of what they are kept in.
type (
	DeciCelsius          int64 // 0.1 °C
	DeciKelvin           int64 // 0.1 K, a step of temperature
	DeciPercent          int64 // 0.1 %: relative humidity, moisture
	Micrometre           int64
	Millimetre           int64
	SquareMillimetre     int64
	Gram                 int64
	Milligram            int64
	MicrometrePerRootDay int64 // depth cured = this × √days
)

// The units that are reckoned in, not rounded.
type (
	Celsius            float64
	Kelvin             float64
	Percent            float64
	GramPerSquareMetre float64
	Litre              float64
	LitrePerMinute     float64
	Pascal             float64
	Newton             float64
)

// Celsius is the temperature to reckon with.
func (t DeciCelsius) Celsius() Celsius { return Celsius(t) / 10 }

// Percent is the share to reckon with.
func (p DeciPercent) Percent() Percent { return Percent(p) / 10 }

func (a SquareMillimetre) squareMetres() float64 { return float64(a) / 1e6 }

// String is "17.5 °C".
func (t DeciCelsius) String() string { return tenth(int64(t)) + " °C" }

func tenth(n int64) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	return fmt.Sprintf("%s%d.%d", sign, n/10, n%10)
}

func outside(what string, is any) error { return fmt.Errorf("%s %v: %w", what, is, ErrRange) }

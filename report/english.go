package report

import (
	"fmt"
	"slices"
	"strconv"

	"lapmark/report/english"
)

// theLines names lines by their numbers: "line 3", "lines 1, 2 and 5 to 7".
func theLines(numbers []int) string {
	if len(numbers) == 1 {
		return "line " + strconv.Itoa(numbers[0])
	}
	ns := slices.Sorted(slices.Values(numbers))
	return "lines " + english.List(english.Runs(ns, func(a, b int) bool { return b == a+1 }))
}

// squareMetres is an area in m² to 0.01, from mm², rounded half up.
func squareMetres(mm2 int64) string {
	hundredths := (mm2 + 5000) / 10000
	return fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100)
}

// percent is a share in percent to 0.1, without ".0".
func percent(permille int) string {
	if permille%10 == 0 {
		return strconv.Itoa(permille / 10)
	}
	return fmt.Sprintf("%d.%d", permille/10, permille%10)
}

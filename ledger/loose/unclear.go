package loose

import (
	"fmt"
	"strings"

	"lapmark/ledger/sheet"
)

// The reasons of package sheet, and the two that only a loose reading has.
const (
	Kind      = sheet.ReasonKind
	Word      = sheet.ReasonWord
	Number    = sheet.ReasonNumber
	UnitOf    = sheet.ReasonUnit
	Place     = sheet.ReasonPlace
	DayOf     = sheet.ReasonDay
	Time      = sheet.ReasonTime
	Who       = sheet.ReasonWho
	Reference = sheet.ReasonReference
	Private   = sheet.ReasonPrivate
	Readings  = sheet.Reason("readings")
)

func unclear(reason sheet.Reason, format string, args ...any) error {
	return &sheet.Unclear{Reason: reason, What: fmt.Sprintf(format, args...)}
}

func clip(s string) string {
	s = strings.ReplaceAll(s, "\n", " ")
	if r := []rune(s); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}

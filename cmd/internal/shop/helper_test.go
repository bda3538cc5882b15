package shop_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/report"
)

func demoTerms(t *testing.T) report.Terms {
	t.Helper()
	terms, err := report.ParseTerms([]byte("shop Thornwick Roofs\naddress 9 Weir Row, Eel Pie\ndesk warranty desk\ntelephone 555 0163\n"))
	require.NoError(t, err)
	return terms
}

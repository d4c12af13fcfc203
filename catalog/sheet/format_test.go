package sheet

import (
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// A number keeps its digits and takes what its format shows beside them, or is a fault.
func TestNumberFormats(t *testing.T) {
	book := excelize.NewFile()
	defer book.Close()
	for _, c := range []struct {
		number float64
		format string
		want   string // "" for a date, "?" for what cannot be read
	}{
		{1.25, "", "1.25"},
		{1.25, "General", "1.25"},
		{1.25, `General" kg"`, "1.25 kg"},
		{1.25, `0.0" kg"`, "1.25 kg"},
		{1.256, `0.0##" kg"`, "1.256 kg"},
		{1250.5, `#,##0" g"`, "1250.5 g"},
		{1250.5, `# ##0\ \g`, "1250.5 g"},
		{2.8, `"f/"0.0`, "f/2.8"},
		{35, `0 "Ø"`, "35 Ø"},
		{0.025, "0%", "2.5%"},
		{0.07, `0.00\ %`, "7 %"},
		{3, `0"%"`, "3%"},
		{12.5, `[$€-407] #,##0.00`, "€ 12.5"},
		{12.5, `#,##0.00 "€";[Red]-#,##0.00 "€"`, "12.5 €"},
		{-12.5, `0.0_);(0.0)`, "-12.5"},
		{0, `0.0" m";-0.0" m";"-"??" m"`, "0 m"},
		{1250, "0.00E+00", "1250"},
		{1.25, "# ?/?", "1.25"},
		{44775, "d-mmm", ""},
		{44775, "[$-409]yyyy/mm/dd;@", ""},
		{0.5, "[h]:mm", ""},
		{1250, `0.0," k"`, "?"},
		{5.5, `0" ft "0" in"`, "?"},
		{1.25, `"2x"0.0`, "?"},
		{1.25, `[<1]0.00;0`, "?"},
		{1.25, `0.0" kg`, "?"},
		{1.25, `"none"`, "?"},
		{1.25, `0.0\`, "1.25"},
	} {
		got := numberCell(c.number, c.format)
		wantFault := map[string]string{"": faultDate, "?": faultShown}[c.want]
		if got.fault != wantFault || wantFault == "" && got != (cell{text: c.want, exact: true}) {
			t.Errorf("%v as %s: got %+v, want %q, fault %q", c.number, c.format, got, c.want, wantFault)
		}
		if wantFault != "" || c.format == "" || strings.HasPrefix(c.format, "General") {
			continue
		}
		// Another reader of workbooks, which does not know General with a text, shows the
		// same beside the digits.
		style, err := book.NewStyle(&excelize.Style{CustomNumFmt: &c.format})
		if err != nil {
			t.Fatal(err)
		}
		if err := book.SetCellValue("Sheet1", "A1", c.number); err != nil {
			t.Fatal(err)
		}
		if err := book.SetCellStyle("Sheet1", "A1", "A1", style); err != nil {
			t.Fatal(err)
		}
		shown, err := book.GetCellValue("Sheet1", "A1")
		if err != nil {
			t.Fatal(err)
		}
		beside := func(text string) string { return strings.Trim(text, "0123456789.,-+E()/ ") }
		if beside(shown) != beside(got.text) {
			t.Errorf("%v as %s: got %q, want what %q has beside the digits", c.number, c.format, got.text, shown)
		}
	}
}

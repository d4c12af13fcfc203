package lang

import "fmt"

// TidyChecked gives the tidy text of a source that can be parsed, for whoever puts it in
// the place of the only copy: that it says the same as before is checked. With errors the
// text is "".
func TidyChecked(src *Source) (string, Diagnostics) {
	before, found := Parse(src)
	if found.HasErrors() {
		return "", found
	}
	tidy := Tidy(src)
	again, faults := NewSource(src.Name, []byte(tidy))
	if !faults.HasErrors() {
		after, faults := Parse(again)
		if !faults.HasErrors() && after.Meaning() == before.Meaning() {
			return tidy, found
		}
	}
	return "", Diagnostics{{
		Severity: Error, Code: InternalFault, Span: Span{Source: src},
		Summary: fmt.Sprintf("%q would not say the same when tidied", src.Name),
		Detail:  "It is left as it is. Please report it with the file.",
	}}
}

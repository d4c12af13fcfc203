package cmd

import (
	"bytes"
	"encoding/json"
	"errors"

	"glassbrief/cmd/travel"
	"glassbrief/lang"
)

// diagnosticsOf gives what an error has to say about the input.
func diagnosticsOf(err error) lang.Diagnostics {
	var ds lang.Diagnostics
	if errors.As(err, &ds) {
		return ds
	}
	return lang.Diagnostics{{Severity: lang.Error, Code: lang.UnreadableFile, Summary: err.Error()}}
}

// diagnosticsData is the object that carries diagnostics to programs.
type diagnosticsData struct {
	travel.Header
	Diagnostics lang.Diagnostics `json:"diagnostics"`
}

// report prints diagnostics on standard error, as an object when JSON is asked for. A verb that
// hears them itself puts them into its own object.
func (a *app) report(ds lang.Diagnostics) {
	a.bar.end()
	if a.heard != nil {
		if ds = ds.Beyond(*a.heard); len(ds) == 0 {
			return
		}
		if *a.heard = append(*a.heard, ds...); a.form.value == "json" {
			return
		}
	}
	if a.form.value == "json" {
		data := diagnosticsData{travel.HeaderOf("diagnostics"), ds.Sorted()}
		var b bytes.Buffer
		encoder := json.NewEncoder(&b)
		encoder.SetEscapeHTML(false)
		encoder.SetIndent("", "  ")
		_ = encoder.Encode(data)
		_, _ = a.stderr.Write(travel.CleanJSON(b.Bytes())) // there is no other stream to say that this one is gone
		return
	}
	_ = lang.Report(a.stderr, ds, a.palette(a.stderr).Role) // as above
}

// reportWarnings reports what was found, if anything was.
func (a *app) reportWarnings(found lang.Diagnostics) {
	if len(found) > 0 {
		a.report(found)
	}
}

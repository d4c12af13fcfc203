package travel

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestNumberJSON(t *testing.T) {
	tests := []struct {
		value float64
		want  string
	}{
		{0, "0"}, {1.0 / 3, "0.333333333"}, {17.258941923, "17.2589419"}, {-2.5, "-2.5"},
		{123456789012, "123456789000"}, {1e-9, "1e-9"},
		{math.NaN(), "null"}, {math.Inf(1), "null"}, {math.Inf(-1), "null"},
	}
	for _, test := range tests {
		got, err := json.Marshal(Number(test.value))
		if err != nil || string(got) != test.want {
			t.Errorf("%g: got %s, %v, want %s", test.value, got, err, test.want)
		}
	}
}

func TestWriteCSV(t *testing.T) {
	type row struct {
		Header
		Name  string `json:"name"`
		Focal Number `json:"focal_mm"`
		Owned bool   `json:"owned"`
	}
	var b strings.Builder
	err := WriteCSV(&b, slices.Values([]any{
		row{HeaderOf("list"), "Wide, \"18\"", 18, true},
		row{HeaderOf("list"), "=1+2", Number(math.NaN()), false},
	}))
	if err != nil {
		t.Fatal(err)
	}
	want := "schema,name,focal_mm,owned\n" +
		"glassbrief/list/1,\"Wide, \"\"18\"\"\",18,true\n" +
		"glassbrief/list/1,'=1+2,,false\n"
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("CSV differs (-want +got):\n%s", diff)
	}
	nested := struct {
		List []int `json:"list"`
	}{[]int{1}}
	if err := WriteCSV(&b, slices.Values([]any{nested})); err == nil {
		t.Error("got no error for a list in a row, want one")
	}
}

// Texts keep the signs that a page would need escaped.
func TestObjectKeepsSigns(t *testing.T) {
	var b strings.Builder
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	inner := Object{{Key: "name", Value: "<A> & B"}}
	if err := encoder.Encode(Object{{Key: "lenses", Value: []Object{inner}}}); err != nil {
		t.Fatal(err)
	}
	if got, want := b.String(), `{"lenses":[{"name":"<A> & B"}]}`+"\n"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

package travel

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestObjectJSON(t *testing.T) {
	null := (*string)(nil)
	tests := []struct {
		name string
		of   Object
		want string
	}{
		{"units by key", Of("focal_mm", 0.035, "fill_pct", 0.5, "bag_kg", 1.5, "mass_g", 0.25, "turn_deg", math.Pi), `{"focal_mm":35,"fill_pct":50,"bag_kg":1.5,"mass_g":250,"turn_deg":180}`},
		{"unknown and without bound", Of("far_m", math.Inf(1), "mass_kg", math.NaN()), `{"far_m":null,"mass_kg":null}`},
		{"optional", Of("a?", false, "b?", true, "c?", Object(nil)), `{"b":true}`},
		{"lists of none", Of("shots", []Object(nil), "lenses", []string(nil)), `{"shots":[],"lenses":[]}`},
		{"null", Of("lens", null, "second", Nullable{}, "name", Name("")), `{"lens":null,"second":null,"name":null}`},
		{"texts", Of("a", "x < y & \"z\"", "b", "夜\n"), `{"a":"x < y & \"z\"","b":"夜\n"}`},
		{"objects", Of("o", Of("n", 1), "l", []Object{Of("f", FigureOf(2, "T"))}), `{"o":{"n":1},"l":[{"f":2}]}`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := test.of.MarshalJSON()
			if err != nil || !json.Valid(got) {
				t.Fatalf("got %s, %v", got, err)
			}
			if diff := cmp.Diff(test.want, string(got)); diff != "" {
				t.Errorf("JSON differs (-want +got):\n%s", diff)
			}
		})
	}
	if _, err := Of("f", math.Sin).MarshalJSON(); err == nil {
		t.Error("got no error for a function, want one")
	}
}

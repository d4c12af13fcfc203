package catalog_test

import (
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

func TestComposeIsTidyAndKeepsOrigins(t *testing.T) {
	list := source(t, "list", "Wide\n18\nheavy\nBody")
	at := func(text string) lang.Span {
		for i := range list.Text {
			if list.Text[i:i+len(text)] == text {
				return lang.Span{Source: list, Start: i, End: i + len(text)}
			}
		}
		t.Fatalf("no %q", text)
		return lang.Span{}
	}
	text, origins := catalog.Compose([]catalog.Draft{
		{Kind: "lens", Name: `The "Wide"`, Lines: []catalog.Line{
			{Keyword: "mount", Value: `"Short"`, At: at("Wide")},
			{Keyword: "focal", Value: "18 mm", At: at("18")},
			{Keyword: "mass", Value: "40kg", At: at("heavy")},
		}},
		{Kind: "camera", Name: "Body", Amends: true, Lines: []catalog.Line{{Keyword: "iso", Value: "800", At: at("Body")}}},
	})
	want := `lens "The \"Wide\"" {
  mount     "Short"
  focal     18mm
  mass      40kg
}

amend camera "Body" {
  iso       800
}
`
	if diff := cmp.Diff(want, text); diff != "" {
		t.Fatalf("text (-want +got):\n%s", diff)
	}
	composed := source(t, "composed", text)
	_, ds := catalog.Load(composed, source(t, "ground", ground+`camera "Body" {
mount "Short"
mode "All" 36mm x 24mm
}`))
	ds = catalog.Relocate(ds, composed, origins)
	if len(ds) != 1 || ds[0].Code != lang.Improbable || ds[0].Span.String() != "list:3:1" {
		t.Errorf("got %v, want the improbable mass at list:3:1", ds)
	}
}

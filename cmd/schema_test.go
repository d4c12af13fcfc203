package cmd

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/catalog/lenscorrection"
	"glassbrief/catalog/sheet"
	"glassbrief/cmd/travel"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/doctor"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/floor"
	"glassbrief/engine/optics"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
	"github.com/invopop/jsonschema"
	validator "github.com/santhosh-tekuri/jsonschema/v6"
)

// schemas lists what every kind of JSON output is made from, and commands that give it.
var schemas = []struct {
	name string   // of the file in schema/
	data any      // a type, what makes an object, or nil of a calculation, whose first run makes it
	runs []string // arguments, cut at "|"
}{
	{"recommend", recommendData{}, []string{
		"recommend|../scenarios/night-ferry.scenario",
		"recommend|../scenarios/night-ferry.scenario|--camera|House body B",
		"recommend|../scenarios/night-ferry.scenario|--nearby|20",
		"recommend|../scenarios/orchard.scenario",
		"recommend|../testdata/schema/uncovered.scenario",
	}},
	{"facts", factsData{}, []string{"facts", "facts|hyperfocal"}},
	{"rules", rulesData{}, []string{"rules", "rules|../scenarios/orchard.scenario"}},
	{"catalog-list", func(t *testing.T) travel.Object { return catalogListObject(demoCatalogue(t)) }, []string{"catalog|list", "catalog|list|--catalog|../scenarios/orchard-hire.catalog|--catalog|../catalog/demo.catalog"}},
	{"catalog-show", catalogShowData{}, []string{"catalog|show|Wide 18", "catalog|show|Short sled", "catalog|show|Deep to coin"}},
	{"reckon-field", nil, []string{
		"reckon|field|--focal|24mm|--sensor|36mm x 24mm",
		"reckon|field|--focal|40mm|--sensor|24.89mm x 18.67mm|--deliver|2.39:1|--squeeze|2|--distance|3m",
		"reckon|field|--focal|8mm|--sensor|30mm x 12mm|--projection|equidistant|--distance|2m",
	}},
	{"reckon-match", nil, []string{"reckon|match|--focal|24mm|--from|36mm x 24mm|--to|24.89mm x 18.67mm"}},
	{"reckon-focus", nil, []string{
		"reckon|focus|--focal|50mm|--aperture|f/8|--confusion|0.03mm|--distance|3m",
		"reckon|focus|--focal|50mm|--aperture|f/8|--confusion|0.03mm|--range|2m..",
		"reckon|focus|--focal|15mm|--aperture|f/8|--sensor|36mm x 24mm|--infinity",
	}},
	{"reckon-light", nil, []string{"reckon|light|--light|320lx|--iso|800|--shutter|1/50s"}},
	{"reckon-pace", nil, []string{"reckon|pace|--focal|50mm|--sensor|24.89mm x 18.67mm|--turn|4deg/s"}},
	{"reckon-balance", nil, []string{"reckon|balance|--inertia|1.5kgm2|--mass|12kg|--offset|12.7mm"}},
	{"reckon-focus-scale", scaleData{}, []string{"reckon|focus|--scale|--lens|Wide 18|--confusion|0.02mm", "reckon|focus|--scale|--focal|50mm|--confusion|0.02mm"}},
	{"reckon-drops", nil, []string{"reckon|drops|--first|2.2s|--second|1.6s|--added|60g|--depth|300mm|--mass|2.4kg"}},
	{"cards", cardsObject, []string{"cards|../scenarios/night-ferry.scenario", "cards|../scenarios/orchard.scenario"}},
	{"audit", auditData{}, []string{
		"audit|../scenarios/night-ferry.scenario", "audit|../scenarios/orchard.scenario|--owned-only",
		"audit|../testdata/audit/cellar.scenario",
	}},
	{"why", whyData{}, []string{
		"why|../scenarios/night-ferry.scenario|--shot|4A",
		"why|../scenarios/night-ferry.scenario|--shot|9A|--lens|Zoom 24-70|--against|Wide 24",
		"why|../scenarios/orchard.scenario|--shot|6A|--lens|Old 28",
	}},
	{"compare", compareData{}, []string{
		"compare|../scenarios/night-ferry.scenario|../scenarios/night-ferry.scenario",
		"compare|../scenarios/night-ferry.scenario|../scenarios/orchard.scenario",
	}},
	{"rules-test", rulesTestData{}, []string{"rules|test|../testdata/rules/standard-cases.rules"}},
	{"tidy", tidyData{}, []string{"tidy|--list|../scenarios/night-ferry.scenario"}},
	{"catalog-import", func(*testing.T) travel.Object {
		return importView([]*sheet.Reading{{Columns: make([]sheet.ColumnReading, 1)}}, true).data.(travel.Object)
	}, []string{"catalog|import|../scenarios/hire-list.csv|--dry-run"}},
	{"catalog-correction", func(*testing.T) travel.Object {
		lens := &lenscorrection.Lens{Crop: 1, Distortions: []catalog.Distortion{{Model: catalog.Poly3}}}
		return matchesView(&lenscorrection.Database{}, []*lenscorrection.Lens{lens}, optics.FullFrame).data.(travel.Object)
	}, []string{"catalog|import|../scenarios/measured|--find|field|--dry-run"}},
	{"catalog-doctor", func(*testing.T) travel.Object {
		changes := make([]doctor.OtherKit, 1)
		lens := doctor.Lens{Lens: &catalog.Lens{}, Gaps: []doctor.Gap{{Changes: changes}}, Together: changes}
		return doctorView("", &doctor.Examination{Lenses: []doctor.Lens{lens}}, nil).data.(travel.Object)
	}, []string{"catalog|doctor", "catalog|doctor|../scenarios/orchard.scenario"}},
	{"diagnostics", diagnosticsData{}, []string{"reckon|balance|--inertia|1.5kg|--mass|12kg|--offset|12.7mm", "reckn"}},
}

func schemaOf(t *testing.T, schema *jsonschema.Schema) []byte {
	t.Helper()
	text, err := json.MarshalIndent(schema, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(text, '\n')
}

func numberSchema() *jsonschema.Schema {
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{{Type: "number"}, {Type: "null"}}}
}

// calculationObject gives the object of a calculation, of which every run has all that
// programs may read.
func calculationObject(t *testing.T, run []string) travel.Object {
	t.Helper()
	c := calculations[slices.IndexFunc(calculations, func(c calculation) bool { return c.name == run[1] })]
	verb := (&app{}).calculate(c)
	if err := verb.ParseFlags(run[2:]); err != nil {
		t.Fatal(err)
	}
	outcome, err := c.of(&reading{flags: verb.Flags()})
	if err != nil {
		t.Fatal(err)
	}
	return outcome.object()
}

// cardsObject gives the object of cards on which nothing is left out.
func cardsObject(t *testing.T) travel.Object {
	t.Helper()
	text, err := os.ReadFile("../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	r := enginetest.Recommend(t, enginetest.Read(t, string(text), brief.Files{}), engine.Options{})
	deck := floor.NewDeck(r)
	deck.Cards[0].Swap = &floor.Swap{}
	deck.Cards[0].Cautions = []floor.Caution{{Hazard: brief.Backwards}}
	deck.Swaps, deck.Lacks = []floor.Swap{{}}, []floor.Lack{{}}
	return deckView{r, deck}.object(lang.Printer{})
}

func demoCatalogue(t *testing.T) *catalog.Catalogue {
	t.Helper()
	c, ds := catalog.Load(catalog.Demo())
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return c
}

// objectSchema makes the schema of an object that leaves nothing out. The first item of a
// list stands for all.
func objectSchema(o travel.Object) *jsonschema.Schema {
	schema := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema}
	for _, m := range o {
		schema.Properties.Set(m.Key, valueSchema(m.Value))
		if !m.Optional {
			schema.Required = append(schema.Required, m.Key)
		}
	}
	return schema
}

func valueSchema(value any) *jsonschema.Schema {
	switch value := value.(type) {
	case string:
		return &jsonschema.Schema{Type: "string"}
	case bool:
		return &jsonschema.Schema{Type: "boolean"}
	case int:
		return &jsonschema.Schema{Type: "integer"}
	case []string:
		return &jsonschema.Schema{Type: "array", Items: valueSchema("")}
	case []int:
		return &jsonschema.Schema{Type: "array", Items: valueSchema(0)}
	case lang.Diagnostics:
		return &jsonschema.Schema{Type: "array", Items: diagnosticSchema()}
	case []travel.Number:
		return &jsonschema.Schema{Type: "array", Items: numberSchema()}
	case travel.Object:
		return objectSchema(value)
	case []travel.Object:
		return &jsonschema.Schema{Type: "array", Items: objectSchema(value[0])}
	}
	return numberSchema()
}

// reflectedSchema makes the schema of an output from its type.
func reflectedSchema(data any) *jsonschema.Schema {
	reflector := jsonschema.Reflector{ExpandedStruct: true, DoNotReference: true, Anonymous: true, Mapper: func(of reflect.Type) *jsonschema.Schema {
		switch of {
		case reflect.TypeFor[travel.Number]():
			return numberSchema()
		case reflect.TypeFor[daySwapData]():
			return objectSchema(daySwapData{Before: &brief.Shot{}}.object())
		case reflect.TypeFor[lang.Diagnostic]():
			return diagnosticSchema()
		}
		return nil
	}}
	return reflector.Reflect(data)
}

// diagnosticSchema says what lang's own JSON of a diagnostic holds.
func diagnosticSchema() *jsonschema.Schema {
	place := func(s *jsonschema.Schema) *jsonschema.Schema {
		s.Type, s.AdditionalProperties = "object", jsonschema.FalseSchema
		s.Properties.Set("file", &jsonschema.Schema{Type: "string"})
		for _, name := range []string{"line", "column", "end_line", "end_column"} {
			s.Properties.Set(name, &jsonschema.Schema{Type: "integer", Minimum: "1"})
		}
		return s
	}
	related := place(&jsonschema.Schema{Properties: jsonschema.NewProperties(), Required: []string{"note"}})
	related.Properties.Set("note", &jsonschema.Schema{Type: "string"})
	d := place(&jsonschema.Schema{Properties: jsonschema.NewProperties(), Required: []string{"severity", "code", "summary"}})
	d.Properties.Set("severity", &jsonschema.Schema{Enum: []any{"error", "warning"}})
	for _, name := range []string{"code", "summary", "detail", "instead"} {
		d.Properties.Set(name, &jsonschema.Schema{Type: "string"})
	}
	d.Properties.Set("related", &jsonschema.Schema{Type: "array", Items: related})
	return d
}

// The committed schemas are those of the types, and outputs of the command obey them.
// With GLASSBRIEF_UPDATE=1 they are rewritten.
func TestSchemas(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	for _, schema := range schemas {
		t.Run(schema.name, func(t *testing.T) {
			path := filepath.Join("schema", schema.name+".schema.json")
			var want []byte
			made, ok := schema.data.(func(*testing.T) travel.Object)
			if schema.data == nil {
				made, ok = func(t *testing.T) travel.Object { return calculationObject(t, strings.Split(schema.runs[0], "|")) }, true
			}
			if ok {
				root := objectSchema(made(t))
				root.Version = jsonschema.Version
				want = schemaOf(t, root)
			} else {
				want = schemaOf(t, reflectedSchema(schema.data))
			}
			if os.Getenv("GLASSBRIEF_UPDATE") != "" {
				if err := os.WriteFile(path, want, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			got, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), string(got)); diff != "" {
				t.Errorf("the committed schema differs (-want +got):\n%s", diff)
			}
			document, err := validator.UnmarshalJSON(bytes.NewReader(got))
			if err != nil {
				t.Fatal(err)
			}
			compiler := validator.NewCompiler()
			if err := compiler.AddResource(path, document); err != nil {
				t.Fatal(err)
			}
			compiled, err := compiler.Compile(path)
			if err != nil {
				t.Fatal(err)
			}
			for _, run := range schema.runs {
				var stdout, stderr bytes.Buffer
				Main(append(strings.Split(run, "|"), "--as", "json"), nil, &stdout, &stderr)
				output, err := validator.UnmarshalJSON(&stdout)
				if schema.name == "diagnostics" {
					output, err = validator.UnmarshalJSON(&stderr)
				}
				if err != nil {
					t.Errorf("%s: %v; %s", run, err, stderr.String())
					continue
				}
				if err := compiled.Validate(output); err != nil {
					t.Errorf("%s: %v", run, err)
				}
			}
		})
	}
}

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
	"glassbrief/engine/answer"
	"glassbrief/engine/audit"
	"glassbrief/engine/brief"
	"glassbrief/engine/compare"
	"glassbrief/engine/days"
	"glassbrief/engine/doctor"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/floor"
	"glassbrief/engine/optics"
	"glassbrief/engine/rig"
	"glassbrief/engine/rules"
	"glassbrief/engine/schedule"
	"glassbrief/engine/sure"
	"glassbrief/engine/taste"
	"glassbrief/engine/why"
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
	{"recommend", recommendObject, []string{
		"recommend|../scenarios/night-ferry.scenario",
		"recommend|../scenarios/night-ferry.scenario|--camera|House body B",
		"recommend|../scenarios/night-ferry.scenario|--nearby|20|--tastes",
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
	{"audit", auditObject, []string{
		"audit|../scenarios/night-ferry.scenario", "audit|../scenarios/orchard.scenario|--owned-only",
		"audit|../testdata/audit/cellar.scenario",
	}},
	{"days", daysObject, []string{"days|../scenarios/salt-works.scenario", "days|../scenarios/night-ferry.scenario"}},
	{"why", whyObject, []string{
		"why|../scenarios/night-ferry.scenario|--shot|4A",
		"why|../scenarios/night-ferry.scenario|--shot|9A|--lens|Zoom 24-70|--against|Wide 24",
		"why|../scenarios/orchard.scenario|--shot|6A|--lens|Old 28",
	}},
	{"compare", compareObject, []string{
		"compare|../scenarios/night-ferry.scenario|../scenarios/night-ferry.scenario",
		"compare|../scenarios/night-ferry.scenario|../scenarios/orchard.scenario",
	}},
	{"compare-sides", reviewObject, []string{
		"compare|../scenarios/night-ferry.scenario|../scenarios/night-ferry.scenario|../scenarios/night-ferry.scenario",
		"compare|../scenarios/night-ferry.scenario|../scenarios/orchard.scenario|../scenarios/night-ferry.scenario",
	}},
	{"compare-choices", choicesComparedData{}, []string{
		"compare|../scenarios/night-ferry.choices|../scenarios/night-ferry.choices",
		"compare|../scenarios/night-ferry.choices|../testdata/schema/none.choices",
	}},
	{"rules-learn", learnData{}, []string{"rules|learn|../scenarios/night-ferry.choices"}},
	{"rules-test", rulesTestData{}, []string{"rules|test|../testdata/rules/standard-cases.rules"}},
	{"check", checkData{}, []string{"check|../scenarios/night-ferry.scenario", "check|../testdata/schema/uncovered.scenario"}},
	{"merge", mergeData{}, []string{"merge|../scenarios/night-ferry.scenario|../scenarios/night-ferry.scenario|../scenarios/orchard.scenario", "merge|../scenarios/night-ferry.scenario|../scenarios/orchard.scenario|../scenarios/salt-works.scenario"}},
	{"explain", explainData{}, []string{"explain", "explain|missing-unit"}},
	{"schema", schemasData{}, []string{"schema"}},
	{"settings", settingsData{}, []string{"settings", "settings|../scenarios/night-ferry.scenario|--units|imperial"}},
	{"tidy", tidyData{}, []string{"tidy|--list|../scenarios/night-ferry.scenario"}},
	{"catalog-import", func(*testing.T) travel.Object {
		change := catalog.Change{Before: catalog.Field{Value: lang.Text{}}, After: catalog.Field{Value: lang.Text{}}}
		return importView([]*sheet.Reading{{Columns: make([]sheet.ColumnReading, 1)}}, []catalog.Change{change}, true).data.(travel.Object)
	}, []string{"catalog|import|../scenarios/hire-list.csv|--dry-run"}},
	{"catalog-correction", func(*testing.T) travel.Object {
		lens := &lenscorrection.Lens{Crop: 1, Distortions: []catalog.Distortion{{Model: catalog.Poly3}}}
		return matchesView(&lenscorrection.Database{}, []*lenscorrection.Lens{lens}, optics.FullFrame).data.(travel.Object)
	}, []string{"catalog|import|../scenarios/measured|--find|field|--dry-run"}},
	{"catalog-doctor", func(*testing.T) travel.Object {
		changes := make([]doctor.OtherKit, 1)
		lens := doctor.Item{Of: brief.OfLens, Gaps: []doctor.Gap{{Keyword: "mass", Changes: changes}}, Together: changes}
		return doctorView("", &doctor.Examination{Items: []doctor.Item{lens}}, nil).data.(travel.Object)
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
	deck.Cautions = deck.Cards[0].Cautions
	deck.Lacks = []rig.Lack{{}}
	return travel.Cards(r, deck, lang.Printer{})
}

// recommendationOf recommends for a scenario of the repository.
func recommendationOf(t *testing.T, folder, name string) *engine.Recommendation {
	t.Helper()
	return enginetest.Recommend(t, enginetest.ReadFile(t, os.DirFS(folder), name), engine.Options{Runners: answer.Runners})
}

// judgedInPart makes an excluded lens one that is judged and that a limit bites too, so that its
// object leaves nothing out.
func judgedInPart(j *engine.Judgement) {
	coverage := &j.Criteria[0]
	coverage.Bites = []rules.Raised{{Code: coverage.Limits[0].Code, Reason: j.Vetoes()[0].Reason, Factor: 0.5}}
	j.Standing = engine.Judged
}

// recommendObject gives the object of an answer on which nothing is left out.
func recommendObject(t *testing.T) travel.Object {
	whole, err := answer.Around(t.Context(), recommendationOf(t, "../scenarios", "night-ferry.scenario"))
	if err == nil {
		err = whole.HowSure(t.Context(), 20, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	whole.Flip, whole.Hurts = &sure.Flip{}, []sure.Hurt{{}}
	whole.Figures = &sure.Figures{
		Kits: []sure.Frequency{{}},
		Ask:  []sure.Question{{Assumption: &brief.Assumption{}, Kits: []sure.KitAt{{}}}},
	}
	criterion := &rules.Criterion{Name: "light"}
	whole.Tastes = &taste.Shares{Criteria: []*rules.Criterion{criterion}, Draws: 1, Kits: []taste.Share{
		{Lenses: []string{"Wide 18"}, Central: []float64{1}, Anew: []string{"Wide 18"}, Marks: &taste.Mark{Criterion: criterion}},
	}}
	whole.LeftOut = []engine.LeftOut{{Lacks: []string{"aperture"}}}
	for i := range whole.Shots {
		whole.Rescues[i] = aRescue(whole.Shots[i].Shot)
		whole.Shots[i].Ranking = slices.DeleteFunc(whole.Shots[i].Ranking, func(j engine.Judgement) bool { return len(j.Vetoes()) == 0 })
		for k := range whole.Shots[i].Ranking {
			judgedInPart(&whole.Shots[i].Ranking[k])
		}
	}
	return travel.Recommendation(whole, false, lang.Printer{})
}

// aRescue is a rescue on which nothing is left out.
func aRescue(shot *brief.Shot) *why.Rescue {
	return &why.Rescue{Nearest: &engine.Judgement{}, Filter: &why.FilterWant{}, Changes: []why.Lift{{BriefChange: why.BriefChange{Shot: shot}}}}
}

// auditObject gives the object of an audit on which nothing is left out.
func auditObject(t *testing.T) travel.Object {
	s := enginetest.ReadFile(t, os.DirFS("../testdata/audit"), "cellar.scenario")
	r, err := audit.Run(t.Context(), s, s.Limits, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	offers := []audit.Offer{{}}
	r.Hire = &audit.Hire{Lenses: offers}
	r.Better, r.Beyond = r.Hire, r.Hire
	r.Days = &audit.Days{Plan: &schedule.Plan{Hire: []schedule.Hire{{}}}, ByDate: []audit.DayHire{{}}}
	r.Specifications[0].Hire = offers
	shot := &r.Shots[0]
	shot.Hire, shot.Window, shot.Filter = offers, &audit.Window{}, &why.FilterWant{}
	r.Filters = []audit.FilterSpec{{}}
	shot.Rescue = aRescue(shot.Shot)
	o := travel.Audit(r, lang.Printer{})
	for i := range o {
		if o[i].Key == "house" { // which is like the other kits, but never has a hired lens
			o[i].Value = o.Get("hire").(travel.Nullable).Object
		}
	}
	return o
}

// daysObject gives the object of a plan of days on which nothing is left out.
func daysObject(t *testing.T) travel.Object {
	s := enginetest.ReadFile(t, os.DirFS("../scenarios"), "salt-works.scenario")
	shoot, err := schedule.New(t.Context(), s, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := shoot.Plan(t.Context(), schedule.Variant{}, days.Solver{})
	if err != nil {
		t.Fatal(err)
	}
	plan.Left, plan.Hire = []schedule.Left{{}}, []schedule.Hire{{}}
	return travel.Days(&schedule.Answer{Shoot: shoot, Plan: plan, Written: plan, Free: plan, Saving: &schedule.Saving{Plan: plan}})
}

// whyObject gives the object of a judgement on which nothing is left out.
func whyObject(t *testing.T) travel.Object {
	r := recommendationOf(t, "../scenarios", "night-ferry.scenario")
	shot := &r.Shots[0]
	out := &shot.Ranking[slices.IndexFunc(shot.Ranking, func(j engine.Judgement) bool { return len(j.Vetoes()) > 0 })]
	judgedInPart(out)
	c := why.Of(r, shot, out, out)
	c.Turns = []why.Turn{{Lens: &catalog.Lens{}, Changes: []why.BriefChange{{Shot: shot.Shot}}, Filter: &why.FilterWant{}}}
	c.Rescue, c.Duel = aRescue(shot.Shot), &taste.Duel{}
	lines := c.Trace[slices.IndexFunc(c.Trace, func(t rules.Trace) bool { return len(t.Scores) > 0 })].Scores
	c.Trace[0].When, c.Trace[0].Vetoes, c.Trace[0].Limits, c.Trace[0].Scores = &lines[0], lines, lines, lines
	return travel.Why(c, lang.Printer{})
}

// compareObject gives the object of a comparison on which nothing is left out.
func compareObject(t *testing.T) travel.Object {
	r := recommendationOf(t, "../scenarios", "night-ferry.scenario")
	shots := []compare.Shots{{Old: &r.Shots[0], New: &r.Shots[0]}}
	return travel.Comparison(&compare.Comparison{
		Old: r, New: r, Shots: shots, Changes: []compare.Edit{{}}, Effects: []compare.Effect{{Of: compare.Kit, Shot: -1}},
		Days: &compare.Days{Old: &schedule.Plan{}, New: &schedule.Plan{}, Moved: []int{0}},
	}, []string{"old", "new"}, false)
}

// reviewObject gives the object of a comparison of three versions on which nothing is left out.
func reviewObject(t *testing.T) travel.Object {
	r := recommendationOf(t, "../scenarios", "night-ferry.scenario")
	shot := &r.Shots[0]
	return travel.Review(&compare.Review{
		Base: r, Ours: r, Theirs: r, Merged: r, ByOurs: []compare.Edit{{}}, ByTheirs: []compare.Edit{{}}, Meetings: []compare.Meeting{{Outcome: compare.Alike}},
		Shots: []compare.Sides{{Base: shot, Ours: shot, Theirs: shot, Merged: shot}}, Faults: lang.Diagnostics{{}},
	}, []string{"base", "ours", "theirs"})
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
func objectSchema(t *testing.T, o travel.Object) *jsonschema.Schema {
	t.Helper()
	schema := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema}
	for _, m := range o {
		value := valueSchema(t, m.Value)
		if _, ok := m.Value.(travel.Object); ok && m.Key == travel.Assumed {
			value = assumedSchema()
		}
		if value == nil {
			t.Fatalf("the example of %q is left out", m.Key)
		}
		schema.Properties.Set(m.Key, value)
		if !m.Optional {
			schema.Required = append(schema.Required, m.Key)
		}
	}
	return schema
}

// assumedSchema says what stands beside numbers that rest on assumed figures.
func assumedSchema() *jsonschema.Schema {
	number := orNull(&jsonschema.Schema{Type: "number"})
	span := &jsonschema.Schema{
		Type: "object", Properties: jsonschema.NewProperties(), Required: []string{"low", "high"}, AdditionalProperties: jsonschema.FalseSchema,
	}
	span.Properties.Set("low", number)
	span.Properties.Set("high", number)
	return &jsonschema.Schema{
		Type: "object", AdditionalProperties: span,
		Description: "Where the numbers beside this lie, by their keys, over the values that the assumed figures may have, as far as trying finds out. " +
			"An end that is null is without bound. A number that is not named does not rest on assumed figures. " +
			"Empty where ranges are not worked out: for a lens behind the first twelve of a ranking and the kits, and for other kits than the first.",
	}
}

func orNull(schema *jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{schema, {Type: "null"}}}
}

// valueSchema gives nil for a value that does not say what it may be.
func valueSchema(t *testing.T, value any) *jsonschema.Schema {
	t.Helper()
	switch value := value.(type) {
	case string:
		return &jsonschema.Schema{Type: "string"}
	case *string:
		return orNull(valueSchema(t, ""))
	case bool:
		return &jsonschema.Schema{Type: "boolean"}
	case int:
		return &jsonschema.Schema{Type: "integer"}
	case []string:
		return &jsonschema.Schema{Type: "array", Items: valueSchema(t, "")}
	case []int:
		return &jsonschema.Schema{Type: "array", Items: valueSchema(t, 0)}
	case []travel.Number:
		return &jsonschema.Schema{Type: "array", Items: valueSchema(t, travel.Number(0))}
	case lang.Diagnostics:
		return &jsonschema.Schema{Type: "array", Items: diagnosticSchema()}
	case travel.Nullable:
		if value.Object != nil {
			return orNull(objectSchema(t, value.Object))
		}
	case travel.Object:
		if value != nil {
			return objectSchema(t, value)
		}
	case travel.Objects:
		return valueSchema(t, slices.Collect(value))
	case []travel.Object:
		if len(value) > 0 {
			return &jsonschema.Schema{Type: "array", Items: objectSchema(t, value[0])}
		}
	case float64, travel.Figure, travel.Number:
		return orNull(&jsonschema.Schema{Type: "number"})
	}
	return nil
}

// reflectedSchema makes the schema of an output from its type.
func reflectedSchema(data any) *jsonschema.Schema {
	reflector := jsonschema.Reflector{ExpandedStruct: true, DoNotReference: true, Anonymous: true, Mapper: func(of reflect.Type) *jsonschema.Schema {
		switch of {
		case reflect.TypeFor[travel.Number]():
			return orNull(&jsonschema.Schema{Type: "number"})
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
	correction := place(&jsonschema.Schema{Properties: jsonschema.NewProperties(), Required: []string{"file", "line", "column", "end_line", "end_column", "text", "safe"}})
	correction.Properties.Set("text", &jsonschema.Schema{Type: "string"})
	correction.Properties.Set("safe", &jsonschema.Schema{Type: "boolean"})
	d.Properties.Set("correction", correction)
	d.Properties.Set("related", &jsonschema.Schema{Type: "array", Items: related})
	return d
}

// The committed schemas are those of the types, and outputs of the command obey them.
// With GLASSBRIEF_UPDATE=1 they are rewritten.
func TestSchemas(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	keys := readKeyTexts(t)
	defer keys.unused(t)
	for _, schema := range schemas {
		t.Run(schema.name, func(t *testing.T) {
			path := filepath.Join("schema", schema.name+".schema.json")
			var root *jsonschema.Schema
			made, ok := schema.data.(func(*testing.T) travel.Object)
			if schema.data == nil {
				made, ok = func(t *testing.T) travel.Object { return calculationObject(t, strings.Split(schema.runs[0], "|")) }, true
			}
			if ok {
				root = objectSchema(t, made(t))
				root.Version = jsonschema.Version
			} else {
				root = reflectedSchema(schema.data)
			}
			keys.name(t, schema.name, root)
			want := schemaOf(t, root)
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
			compiled := compiledSchema(t, schema.name)
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

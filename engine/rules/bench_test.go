package rules

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
	"glassbrief/lang/langtest"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"
)

// The facts of the benchmark, in the order of benchNames.
const (
	circleMargin facts.ID = iota
	focusMargin
	framingError
	framingHeld
	edgeStretch
	bending
	cornerStretch
	focusHeld
	diffraction
	missingStops
	iso
	wobble
	bob
	pace
	turnRate
	rigMass
	payloadLow
	payloadHigh
	clearance
	isPerson
	hired
)

var benchNames = expression.NewVocabulary([]expression.Name{
	{Name: "circle_margin", Kind: expression.Number},
	{Name: "focus_margin", Kind: expression.Number, Dim: lang.Length},
	{Name: "framing_error", Kind: expression.Number},
	{Name: "framing_held", Kind: expression.Number},
	{Name: "edge_stretch", Kind: expression.Number},
	{Name: "bending", Kind: expression.Number},
	{Name: "corner_stretch", Kind: expression.Number},
	{Name: "focus_held", Kind: expression.Number},
	{Name: "diffraction", Kind: expression.Number},
	{Name: "missing", Kind: expression.Number, Dim: lang.Stops},
	{Name: "iso", Kind: expression.Number},
	{Name: "wobble", Kind: expression.Number},
	{Name: "bob", Kind: expression.Number},
	{Name: "pace", Kind: expression.Number},
	{Name: "turn_rate", Kind: expression.Number, Dim: lang.AngularSpeed},
	{Name: "rig_mass", Kind: expression.Number, Dim: lang.Mass},
	{Name: "payload_low", Kind: expression.Number, Dim: lang.Mass},
	{Name: "payload_high", Kind: expression.Number, Dim: lang.Mass},
	{Name: "clearance", Kind: expression.Number, Dim: lang.Length},
	{Name: "is_person", Kind: expression.Truth},
	{Name: "hired", Kind: expression.Truth},
})

// rise and fall are the helpers that somebody would write who writes rules in Go.
func rise(x, from, to float64) float64 {
	if x >= to {
		return 1
	}
	if x <= from {
		return 0
	}
	return (x - from) / (to - from)
}

func fall(x, from, to float64) float64 {
	if x <= from {
		return 1
	}
	if x >= to {
		return 0
	}
	return (to - x) / (to - from)
}

func bit(value bool) float64 {
	if value {
		return 1
	}
	return 0
}

// benchRules are twenty rules of the kind that criteria hold, each with the closure that
// somebody would write by hand. Truths come out as 0 and 1.
var benchRules = []struct {
	text string
	hand number
}{
	{"circle_margin < -2%", func(r *facts.Record) float64 { return bit(r.Value[circleMargin] < -0.02) }},
	{"focus_margin < 0m", func(r *facts.Record) float64 { return bit(r.Value[focusMargin] < 0) }},
	{"framing_error > 0.5", func(r *facts.Record) float64 { return bit(r.Value[framingError] > 0.5) }},
	{"is_person and edge_stretch > 35%", func(r *facts.Record) float64 {
		return bit(r.Value[isPerson] == 1 && r.Value[edgeStretch] > 0.35)
	}},
	{"rig_mass < payload_low or rig_mass > payload_high", func(r *facts.Record) float64 {
		return bit(r.Value[rigMass] < r.Value[payloadLow] || r.Value[rigMass] > r.Value[payloadHigh])
	}},
	{"missing > 1/2 stops", func(r *facts.Record) float64 { return bit(r.Value[missingStops] > 0.5) }},
	{"clearance < 15cm", func(r *facts.Record) float64 { return bit(r.Value[clearance] < 0.15) }},
	{"0.5 * framing_held + 0.5 * falling(framing_error, 0, 0.5)", func(r *facts.Record) float64 {
		return 0.5*r.Value[framingHeld] + 0.5*fall(r.Value[framingError], 0, 0.5)
	}},
	{"falling(bending, 2%, 30%)", func(r *facts.Record) float64 { return fall(r.Value[bending], 0.02, 0.3) }},
	{"falling(edge_stretch, 3%, 25%)", func(r *facts.Record) float64 { return fall(r.Value[edgeStretch], 0.03, 0.25) }},
	{"falling(corner_stretch, 30%, 110%)", func(r *facts.Record) float64 { return fall(r.Value[cornerStretch], 0.3, 1.1) }},
	{"rising(focus_held, 50%, 100%) * falling(diffraction, 80%, 240%)", func(r *facts.Record) float64 {
		return rise(r.Value[focusHeld], 0.5, 1) * fall(r.Value[diffraction], 0.8, 2.4)
	}},
	{"0.2 + 0.8 * falling(missing, 0 stops, 1 stop)", func(r *facts.Record) float64 { return 0.2 + 0.8*fall(r.Value[missingStops], 0, 1) }},
	{"falling(iso, 800, 6400)", func(r *facts.Record) float64 { return fall(r.Value[iso], 800, 6400) }},
	{"falling(wobble + bob, 0.5%, 6%)", func(r *facts.Record) float64 { return fall(r.Value[wobble]+r.Value[bob], 0.005, 0.06) }},
	{"0.2 + 0.8 * rising(pace, 5%, 100%)", func(r *facts.Record) float64 { return 0.2 + 0.8*rise(r.Value[pace], 0.05, 1) }},
	{"turn_rate > 0.35rad/s ? falling(turn_rate, 0.35rad/s, 1rad/s) : 1", func(r *facts.Record) float64 {
		if r.Value[turnRate] > 0.35 {
			return fall(r.Value[turnRate], 0.35, 1)
		}
		return 1
	}},
	{"falling(rig_mass / payload_high, 80%, 105%)", func(r *facts.Record) float64 {
		return fall(r.Value[rigMass]/r.Value[payloadHigh], 0.8, 1.05)
	}},
	{"rising(clearance, 0.15m, 0.5m) * (hired ? 0.8 : 1)", func(r *facts.Record) float64 {
		factor := 1.0
		if r.Value[hired] == 1 {
			factor = 0.8
		}
		return rise(r.Value[clearance], 0.15, 0.5) * factor
	}},
	{"min(rising(framing_held, 0, 1), rising(focus_held, 0, 1))", func(r *facts.Record) float64 {
		return min(rise(r.Value[framingHeld], 0, 1), rise(r.Value[focusHeld], 0, 1))
	}},
}

// benchRecords gives records with facts around the limits of the rules.
func benchRecords() []facts.Record {
	draw := rand.New(rand.NewPCG(1, 2))
	scale := map[facts.ID]float64{iso: 8000, rigMass: 6, payloadLow: 2, payloadHigh: 5, turnRate: 1.2, wobble: 0.05, bob: 0.03, focusMargin: 2}
	records := make([]facts.Record, 256)
	for i := range records {
		for index := range benchNames.Len() {
			id := facts.ID(index)
			switch factor, scaled := scale[id]; {
			case benchNames.Name(index).Kind == expression.Truth:
				records[i].SetTruth(id, draw.IntN(2) == 1)
			case scaled:
				records[i].Set(id, draw.Float64()*factor)
			default:
				records[i].Set(id, draw.Float64()*1.3-0.05)
			}
		}
	}
	return records
}

// checkBench checks rule i, as a truth or else as a score.
func checkBench(t testing.TB, i int) *expression.Checked {
	checked, _ := check(benchRules[i].text, benchNames, expression.WantTruth)
	if checked != nil {
		return checked
	}
	checked, ds := check(benchRules[i].text, benchNames, expression.WantScore)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return checked
}

// fused compiles the rules as a [Set] does, truths as 0 and 1 in a closure around them.
func fused(t testing.TB) (numbers []number, truths []truth) {
	for i := range benchRules {
		if checked := checkBench(t, i); checked.Kind == expression.Truth {
			truths = append(truths, compileTruth(checked))
		} else {
			numbers = append(numbers, compileNumber(checked))
		}
	}
	return numbers, truths
}

// A stock is expr set up as its manual shows: a struct for the environment, functions
// with their types, the wanted type of result, and Run for each evaluation.
type stock struct {
	programs []*vm.Program
	env      reflect.Type
}

func newStock(t testing.TB) stock {
	var fields []reflect.StructField
	for index := range benchNames.Len() {
		name := benchNames.Name(index)
		field := reflect.StructField{
			Name: fmt.Sprintf("F%d", index), Type: reflect.TypeFor[float64](),
			Tag: reflect.StructTag(fmt.Sprintf("expr:%q", name.Name)),
		}
		if name.Kind == expression.Truth {
			field.Type = reflect.TypeFor[bool]()
		}
		fields = append(fields, field)
	}
	s := stock{env: reflect.StructOf(fields)}
	options := []expr.Option{expr.Env(reflect.New(s.env).Interface())}
	for _, f := range expression.Functions() {
		if f.Go != nil && f.Name != expression.MinName && f.Name != expression.MaxName && f.Name != "abs" {
			row := forExpr(&f)
			options = append(options, expr.Function(f.Name, row.Func, f.Go))
		}
	}
	for i := range benchRules {
		checked := checkBench(t, i)
		result := expr.AsFloat64()
		if checked.Kind == expression.Truth {
			result = expr.AsBool()
		}
		program, err := expr.Compile(checked.Node.String(), append(options, result)...)
		if err != nil {
			t.Fatal(err)
		}
		s.programs = append(s.programs, program)
	}
	return s
}

// environments gives each record as the struct that the programs read.
func (s stock) environments(records []facts.Record) []any {
	all := make([]any, len(records))
	for i := range records {
		env := reflect.New(s.env)
		for index := range benchNames.Len() {
			if field := env.Elem().Field(index); field.Kind() == reflect.Bool {
				field.SetBool(records[i].Value[index] == 1)
			} else {
				field.SetFloat(records[i].Value[index])
			}
		}
		all[i] = env.Interface()
	}
	return all
}

func TestBenchmarkedFormsAgree(t *testing.T) {
	records := benchRecords()
	s := newStock(t)
	environments := s.environments(records)
	for i, rule := range benchRules {
		checked := checkBench(t, i)
		for j := range records {
			var got float64
			if checked.Kind == expression.Truth {
				got = bit(compileTruth(checked)(&records[j]))
			} else {
				got = compileNumber(checked)(&records[j])
			}
			if hand := rule.hand(&records[j]); !same(got, hand) {
				t.Fatalf("%s: closures give %v, Go by hand %v", rule.text, got, hand)
			}
			value, err := expr.Run(s.programs[i], environments[j])
			if err != nil {
				t.Fatal(err)
			}
			if truth, ok := value.(bool); ok {
				value = bit(truth)
			}
			if !same(got, value.(float64)) {
				t.Fatalf("%s: closures give %v, stock expr %v", rule.text, got, value)
			}
		}
	}
}

func TestFusedClosuresDoNotAllocate(t *testing.T) {
	records := benchRecords()
	numbers, truths := fused(t)
	if n := testing.AllocsPerRun(100, func() { runFused(numbers, truths, &records[0]) }); n != 0 {
		t.Errorf("a pair allocates %v times, want 0", n)
	}
}

var sink float64

func runFused(numbers []number, truths []truth, r *facts.Record) {
	sum := 0.0
	for _, truth := range truths {
		sum += bit(truth(r))
	}
	for _, number := range numbers {
		sum += number(r)
	}
	sink = sum
}

func runHand(hands []number, r *facts.Record) {
	sum := 0.0
	for _, hand := range hands {
		sum += hand(r)
	}
	sink = sum
}

func runStock(b *testing.B, s stock, env any) {
	sum := 0.0
	for _, program := range s.programs {
		value, err := expr.Run(program, env)
		if err != nil {
			b.Fatal(err)
		}
		if number, ok := value.(float64); ok {
			sum += number
		}
	}
	sink = sum
}

// BenchmarkPair evaluates the rules as closures that are compiled, as closures written by
// hand, and as stock expr runs them.
func BenchmarkPair(b *testing.B) {
	records := benchRecords()
	hands := handClosures()
	numbers, truths := fused(b)
	s := newStock(b)
	environments := s.environments(records)
	const repeats = 20 // of what is quick, so that a turn is longer than the clock's steps
	repeat := func(run func(r *facts.Record)) func() {
		return func() {
			for range repeats {
				for i := range records {
					run(&records[i])
				}
			}
		}
	}
	units := float64(len(records))
	r := langtest.NewRace(langtest.Processor,
		langtest.Way{Name: "hand", Units: repeats * units, Do: repeat(func(r *facts.Record) { runHand(hands, r) })},
		langtest.Way{Name: "fused", Units: repeats * units, Do: repeat(func(r *facts.Record) { runFused(numbers, truths, r) })},
		langtest.Way{Name: "stock", Units: units, Do: func() {
			for _, env := range environments {
				runStock(b, s, env)
			}
		}},
	)
	langtest.Hold(b, r.Round, r.AtMost("fused", "hand", 2), r.AtLeast("stock", "fused", 20), langtest.Bound{
		Metric: "allocs/pair", AtMost: 0,
		Value: func() float64 {
			return testing.AllocsPerRun(100, func() { runFused(numbers, truths, &records[0]) })
		},
	})
}

func handClosures() []number {
	hands := make([]number, len(benchRules))
	for i, rule := range benchRules {
		hands[i] = rule.hand
	}
	return hands
}

package lang_test

import (
	"fmt"
	"os"

	"glassbrief/lang"
)

// Statements are read with their values; what they mean is not known yet.
func ExampleParse() {
	src, ds := lang.NewSource("kit.catalog", []byte("lens \"Wide 18\" {\n  focal 18mm..35mm\n}\n"))
	if ds.HasErrors() {
		fmt.Println(ds)
		return
	}
	file, ds := lang.Parse(src)
	fmt.Println(len(ds), "findings")
	for _, lens := range file.Statements {
		focal := lens.Block.Statements[0]
		fmt.Println(lens.Keyword.Value, lens.Values[0].Parts[0].Text)
		fmt.Println(focal.Keyword.Value, focal.Values[0].Parts[1].Quantity.Value, "m, at", focal.Span)
	}
	// Output:
	// 0 findings
	// lens Wide 18
	// focal 0.035 m, at kit.catalog:2:3
}

// The tags of a struct say which statements a file takes, and of which dimension.
func ExampleDecode() {
	type shot struct {
		Name     lang.Text     `lang:",label"`
		Distance lang.Interval `lang:"distance,required,dim=length"`
		Light    lang.Quantity `lang:"light,dim=illuminance"`
	}
	var brief struct {
		Shots []shot `lang:"shot"`
	}
	src, _ := lang.NewSource("night.scenario", []byte("shot \"4A\" {\n  distance 5ft 10in..3m\n}\n"))
	file, ds := lang.Parse(src)
	ds = append(ds, lang.Decode(file, &brief)...)
	if err := ds.Err(); err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range brief.Shots {
		fmt.Printf("%s: %.3f m to %.3f m, light known: %v\n", s.Name.Value, s.Distance.Low.Value, s.Distance.High.Value, s.Light.Known())
	}
	// Output:
	// 4A: 1.778 m to 3.000 m, light known: false
}

// Comments stay where they are, and units take their canonical spelling.
func ExampleTidy() {
	src, _ := lang.NewSource("night.scenario", []byte("shot \"4A\" {\ndistance   1.6 metres .. 3m// by tape\n}\n"))
	fmt.Print(lang.Tidy(src))
	// Output:
	// shot "4A" {
	//   distance  1.6m..3m  // by tape
	// }
}

// A diagnostic has a place, a code for programs, and for people the rule and a remedy.
func ExampleReport() {
	var brief struct {
		Light lang.Quantity `lang:"light,dim=illuminance"`
	}
	src, _ := lang.NewSource("night.scenario", []byte("light 320 luxx\n"))
	file, ds := lang.Parse(src)
	ds = append(ds, lang.Decode(file, &brief)...)
	fmt.Println(ds[0].Code)
	if err := lang.Report(os.Stdout, ds, nil); err != nil {
		fmt.Println(err)
	}
	// Output:
	// unknown-unit
	// night.scenario:1:11: error: the unit "luxx" is not known
	//   1 | light 320 luxx
	//     |           ^^^^
	//   An amount of light is wanted here, like "320lx", "30fc" or "EV7".
	//   Did you mean "lux"?
}

// A quantity of a flag's value is read as one in a file is.
func ExampleParseQuantity() {
	height, err := lang.ParseQuantity("--height", "5ft 10in", lang.Length)
	fmt.Printf("%.3f m, %v\n", height.Value, err)
	_, err = lang.ParseQuantity("--height", "80kg", lang.Length)
	fmt.Println(err)
	// Output:
	// 1.778 m, <nil>
	// --height:1:1: error: "80kg" is a mass, and a length is wanted here
}

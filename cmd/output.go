package cmd

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"glassbrief/lang"
)

// A view is what a verb has to say, in every form in which it can be said. A form that
// is nil is one that the verb does not have.
type view struct {
	data any                       // the object of JSON; a struct that begins with a header
	rows []any                     // the rows of CSV: flat structs of one type
	page func(p lang.Printer) page // text and Markdown, in the user's system of units
	html func(w io.Writer) error   // a file to look at
}

// A header begins every object, so that programs know what they read.
type header struct {
	Schema string `json:"schema"`
}

func headerOf(verb string) header { return header{"glassbrief/" + verb + "/1"} }

// show writes a view to the output in the form that --as asks for. The settings must
// have been loaded.
func (a *app) show(v view) error {
	var b bytes.Buffer
	var err error
	switch form := a.form.value; {
	case form == "json" && v.data != nil:
		encoder := json.NewEncoder(&b)
		encoder.SetEscapeHTML(false)
		encoder.SetIndent("", "  ")
		err = encoder.Encode(v.data)
	case form == "csv" && v.rows != nil:
		err = writeCSV(&b, v.rows)
	case form == "text" && v.page != nil:
		out, colours := a.outputStream()
		p := v.page(a.printer())
		err = p.text(&b, colours, a.textWidth(out))
	case form == "markdown" && v.page != nil:
		p := v.page(a.printer())
		err = p.markdown(&b)
	case form == "html" && v.html != nil:
		err = v.html(&b)
	default:
		return usage(lang.NotAllowed, "this verb has no form %q", form).because("Choose another with --as.")
	}
	if err != nil {
		return err
	}
	return a.write(func(w io.Writer) error {
		_, err := w.Write(b.Bytes())
		return err
	})
}

// outputStream gives the stream that the result goes to, and its palette: a file that
// -o names is no terminal.
func (a *app) outputStream() (io.Writer, *palette) {
	if a.output == "" || a.output == "-" {
		return a.stdout, a.palette(a.stdout)
	}
	return io.Discard, a.palette(io.Discard)
}

// printer writes quantities in the system of units of the settings.
func (a *app) printer() lang.Printer {
	if a.settings.Units == "imperial" {
		return lang.Printer{System: lang.Imperial}
	}
	return lang.Printer{}
}

// number is a JSON number with nine significant digits: more than any formula here is
// good for, and few enough to be the same on every machine. What is unknown or without
// bound is null.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	x, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 9, 64), 64)
	if err != nil {
		return nil, err
	}
	return json.Marshal(x)
}

// numbers gives values as they are; an empty list for none.
func numbers(values []float64) []number {
	list := make([]number, len(values))
	for i, value := range values {
		list[i] = number(value)
	}
	return list
}

// in gives a quantity in SI units as a number of the unit.
func in(value float64, unit string) number {
	row, ok := lang.FindUnit(unit)
	if !ok {
		panic("no unit " + unit)
	}
	return number(value / row.Factor)
}

// unbounded reports whether a value has no bound; its number is then null.
func unbounded(value float64) bool { return math.IsInf(value, 0) }

// some makes the value of a field that may be null.
func some[T any](value T) *T { return &value }

// writeCSV writes rows under the names of their JSON fields.
func writeCSV(w io.Writer, rows []any) error {
	out := csv.NewWriter(w)
	for i, row := range rows {
		names, values, err := fieldsOf(row)
		if err != nil {
			return err
		}
		if i == 0 {
			if err := out.Write(names); err != nil {
				return err
			}
		}
		if err := out.Write(values); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// fieldsOf gives the names and values of a flat struct in the order of its fields, as
// its JSON has them.
func fieldsOf(row any) (names, values []string, err error) {
	text, err := json.Marshal(row)
	if err != nil {
		return nil, nil, err
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.UseNumber()
	for at := 0; ; at++ {
		token, err := decoder.Token()
		if err == io.EOF {
			return names, values, nil
		}
		if err != nil {
			return nil, nil, err
		}
		switch value := token.(type) {
		case json.Delim:
			if value != '{' && value != '}' || len(names) != len(values) {
				return nil, nil, fmt.Errorf("a row of CSV holds a list or an object")
			}
		case string:
			if len(names) == len(values) {
				names = append(names, value)
			} else {
				values = append(values, harmless(value))
			}
		case nil:
			values = append(values, "")
		default:
			values = append(values, fmt.Sprint(value))
		}
	}
}

// harmless keeps a spreadsheet from running a text as a formula.
func harmless(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}

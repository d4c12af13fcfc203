package travel

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"strings"

	"glassbrief/lang"
)

// WriteCSV writes rows under the names of their JSON fields.
func WriteCSV(w io.Writer, rows iter.Seq[any]) error {
	out := csv.NewWriter(w)
	headed := false
	for row := range rows {
		names, values, err := fieldsOf(row)
		if err != nil {
			return err
		}
		if !headed {
			if err := out.Write(names); err != nil {
				return err
			}
			headed = true
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

// harmless keeps a spreadsheet from running a text as a formula, and a terminal from obeying it.
func harmless(text string) string {
	text = lang.Printable(text)
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}

// Package schema holds the schemas of the documents of JSON that verbs write. Tests of package cmd make them
// from the documents, and what they say of each key from keys.txt.
package schema

import (
	"embed"
	"strings"
)

//go:embed *.schema.json
var files embed.FS

const ending = ".schema.json"

// Names lists the schemas in alphabetical order.
func Names() []string {
	entries, _ := files.ReadDir(".") // the root of an embedded tree can be read
	names := make([]string, len(entries))
	for i, entry := range entries {
		names[i] = strings.TrimSuffix(entry.Name(), ending)
	}
	return names
}

// Text gives the schema of a document by its name, such as "recommend", or false when there is none.
func Text(name string) (text []byte, ok bool) {
	text, err := files.ReadFile(name + ending)
	return text, err == nil
}

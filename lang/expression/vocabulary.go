package expression

import (
	"fmt"
	"maps"
	"slices"

	"glassbrief/lang"
)

// A Kind says what an expression gives. Its zero value is invalid.
type Kind uint8

const (
	Number Kind = iota + 1 // a float64 in SI units
	Truth                  // true or false
)

// String gives "number" or "truth".
func (k Kind) String() string {
	switch k {
	case Number:
		return "number"
	case Truth:
		return "truth"
	}
	return "invalid kind"
}

// A Name is one fact that expressions may read.
type Name struct {
	Name    string
	Kind    Kind
	Dim     lang.Dimension // of a number
	Unit    string         // in which [lang.Printer] writes it; "" for a plain number
	Meaning string
	// Faulty marks a name whose definition was already reported as wrong. It is accepted
	// everywhere, so that one mistake gives one finding.
	Faulty bool
}

// A Vocabulary is the list of names that expressions may read. A name is known by its
// index. Names are only ever added, so an index stays valid.
type Vocabulary struct {
	names []Name
	index map[string]int
}

// NewVocabulary makes a vocabulary in which names keep their places as indexes. It
// panics when a name is unfit or stands twice: vocabularies are written by programmers.
func NewVocabulary(names []Name) *Vocabulary {
	v := &Vocabulary{names: make([]Name, 0, len(names)), index: make(map[string]int, len(names))}
	for _, name := range names {
		if _, ok := v.Define(name); !ok {
			panic(fmt.Sprintf("expression: %q is no fit name for a fact, or stands twice", name.Name))
		}
	}
	return v
}

// Define appends a name and gives its index. It refuses a name that is not [FitName] or
// is already defined.
func (v *Vocabulary) Define(name Name) (index int, ok bool) {
	if _, taken := v.index[name.Name]; taken || !FitName(name.Name) {
		return 0, false
	}
	v.index[name.Name] = len(v.names)
	v.names = append(v.names, name)
	return len(v.names) - 1, true
}

// Lookup gives the index of a name.
func (v *Vocabulary) Lookup(name string) (index int, ok bool) {
	index, ok = v.index[name]
	return index, ok
}

// Name gives the name with an index that Define or Lookup gave.
func (v *Vocabulary) Name(index int) Name { return v.names[index] }

// Len gives the number of names.
func (v *Vocabulary) Len() int { return len(v.names) }

// Clone gives a vocabulary that can be added to without changing v.
func (v *Vocabulary) Clone() *Vocabulary {
	return &Vocabulary{slices.Clone(v.names), maps.Clone(v.index)}
}

// FitName reports whether a fact may have this name: lower-case ASCII letters, digits
// and "_", a letter first, at least two characters, and no word of the language.
// One letter is too few because "f/2" would read as an f-number.
func FitName(name string) bool {
	if len(name) < 2 || name[0] < 'a' || name[0] > 'z' {
		return false
	}
	for _, c := range name {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '_' {
			return false
		}
	}
	_, refused := refusedWords[name]
	return !refused && !slices.Contains(words, name) && FindFunction(name) == nil
}

// spellings gives all names of facts and functions, for suggestions.
func (v *Vocabulary) spellings() []string {
	var all []string
	for _, name := range v.names {
		all = append(all, name.Name)
	}
	for _, f := range functions {
		all = append(all, f.Name)
	}
	return all
}

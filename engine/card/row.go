package card

import "strings"

// A Row is one value that is said of a T.
type Row[T any] struct {
	// Key is what programs read it under. They read a quantity in the unit that the key ends
	// in, as "focus_at_m"; "rig.mass_kg" stands in a group.
	Key string
	// Of gives a float64 in SI units, a string, a list of strings, an int, a bool, or the
	// moments of a move.
	Of func(*T) any
	// Optional values are left out for programs while they are zero.
	Optional bool

	// The rest is of the rows of a set-up alone.
	Line   Line
	Unit   string // in which people read a quantity, as lang.Printer takes it
	Column bool   // of the spreadsheet: what hands set, and where to go
}

func row[T, V any](key string, of func(*T) V) *Row[T] {
	return &Row[T]{Key: key, Of: func(t *T) any { return of(t) }}
}

// Path gives the group of the key, "" for none, and the key in it.
func (r *Row[T]) Path() (group, key string) {
	if group, key, ok := strings.Cut(r.Key, "."); ok {
		return group, key
	}
	return "", r.Key
}

func (r *Row[T]) optional() *Row[T] {
	r.Optional = true
	return r
}

func (r *Row[T]) column() *Row[T] {
	r.Column = true
	return r
}

// Number gives a quantity in SI units.
func (r *Row[T]) Number(t *T) float64 { return r.Of(t).(float64) }

// Words gives a word or a list of words.
func (r *Row[T]) Words(t *T) []string {
	switch words := r.Of(t).(type) {
	case string:
		return []string{words}
	case []string:
		return words
	}
	return nil
}

package card

import "strings"

// A Row is one value that a T has.
type Row[T any] struct {
	// Key is its name for programs, which ends in the unit they get, as in "focus_at_m". A
	// dot puts it in a group: "rig.mass_kg".
	Key string
	// Of gives a float64 in SI units, a string, a list of strings, an int, a bool, or the
	// moments of a move.
	Of func(*T) any
	// Optional is of a value that programs get only when it is true.
	Optional bool

	// Only rows of a set-up have these.
	Line   Line
	Unit   func() string // for people, as lang.Printer takes it; nil for a text
	Column bool          // it is in the spreadsheet
	// Off gives by how much the value may be off either way, in its own SI unit; nil for one
	// that is set, or that is as exact as what is given. People read no more digits than that.
	Off func(t *T, value float64) float64
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

// off says by how much the value may be off.
func (r *Row[T]) off(by func(t *T, value float64) float64) *Row[T] {
	r.Off = by
	return r
}

// Number gives a quantity in SI units.
func (r *Row[T]) Number(t *T) float64 { return r.Of(t).(float64) }

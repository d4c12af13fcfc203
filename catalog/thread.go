package catalog

import "glassbrief/lang"

// A Thread is a filter thread, as "thread 77mm", or "thread none" for a front that takes
// no screwed filter. Its zero value is unknown, which is not the same as none.
type Thread struct {
	None     bool
	Diameter lang.Quantity // unknown when there is none
}

// DecodeArgs reads the value of "thread".
func (t *Thread) DecodeArgs(args *lang.Args) {
	if args.PeekKind() == lang.WordPart {
		t.None = args.Word("none").Value != ""
		return
	}
	t.Diameter = args.Quantity(lang.Length)
}

// Known reports whether it is known which thread there is, if any.
func (t Thread) Known() bool { return t.None || t.Diameter.Known() }

// Show writes the thread for people.
func (t Thread) Show(p lang.Printer) string {
	if t.None {
		return "none"
	}
	return p.Quantity(t.Diameter.OrNaN(), t.Diameter.Unit)
}

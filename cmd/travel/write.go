package travel

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"iter"
)

// Objects are a list of objects that are made while they are written, so that a long one is never
// held whole.
type Objects = iter.Seq[Object]

// Making makes an object of every item of a list when its turn comes.
func Making[T any](list []T, of func(*T) Object) Objects {
	return func(yield func(Object) bool) {
		for i := range list {
			if !yield(of(&list[i])) {
				return
			}
		}
	}
}

// WriteJSON writes a document, indented and clean, object by object.
func WriteJSON(w io.Writer, document Object) error {
	to := writing{Writer: bufio.NewWriterSize(w, 1<<16)}
	to.object(document, "\n")
	to.text("\n")
	if to.err != nil {
		return to.err
	}
	return to.Flush()
}

// A writing is a document while it is written; the first error ends it.
type writing struct {
	*bufio.Writer
	flat   []byte // a value in one line
	indent bytes.Buffer
	err    error
}

func (w *writing) text(text string) {
	if w.err == nil {
		_, w.err = w.WriteString(text)
	}
}

const indent = "  "

// object writes an object whose last brace stands behind a line break with its indent.
func (w *writing) object(o Object, line string) {
	separator := "{"
	for i := range o {
		if o[i].missing() || w.err != nil {
			continue
		}
		w.text(separator + line + indent + `"` + o[i].Key + `": `)
		w.value(&o[i], line+indent)
		separator = ","
	}
	if separator == "{" {
		w.text("{}")
		return
	}
	w.text(line + "}")
}

func (w *writing) value(m *Member, line string) {
	switch value := m.Value.(type) {
	case Object:
		w.object(value, line)
	case Nullable:
		if value.Object == nil {
			w.text("null")
			return
		}
		w.object(value.Object, line)
	case []Object:
		w.list(Making(value, func(o *Object) Object { return *o }), line)
	case Objects:
		w.list(value, line)
	default:
		w.plain(m, line)
	}
}

func (w *writing) list(all Objects, line string) {
	separator := "["
	for o := range all {
		w.text(separator + line + indent)
		w.object(o, line+indent)
		if separator = ","; w.err != nil {
			return
		}
	}
	if separator == "[" {
		w.text("[]")
		return
	}
	w.text(line + "]")
}

// plain writes a value that holds no objects of ours.
func (w *writing) plain(m *Member, line string) {
	if w.err != nil {
		return
	}
	if w.flat, w.err = m.write(w.flat[:0]); w.err != nil {
		return
	}
	flat := w.flat
	if flat[0] == '[' || flat[0] == '{' {
		w.indent.Reset()
		if w.err = json.Indent(&w.indent, flat, line[1:], indent); w.err != nil {
			return
		}
		flat = w.indent.Bytes()
	}
	_, w.err = w.Write(CleanJSON(flat))
}

package travel

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// drawObject draws an object, and the same with its lists of objects made while they are written.
func drawObject(t *rapid.T, depth int) (whole, streamed Object) {
	keys := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"a", "b_mm", "c", "d", "e"}), 0, 4, rapid.ID).Draw(t, "keys")
	for _, key := range keys {
		var value, later any
		kinds := 6
		if depth == 0 {
			kinds = 3
		}
		switch rapid.IntRange(0, kinds).Draw(t, "kind") {
		case 0:
			value = rapid.Float64().Draw(t, "number")
		case 1:
			value = rapid.String().Draw(t, "text")
		case 2:
			value = rapid.SliceOfN(rapid.String(), 0, 2).Draw(t, "texts")
		case 3:
			value = rapid.SliceOfN(rapid.Int(), 0, 2).Draw(t, "ints")
		case 4:
			value, later = drawObject(t, depth-1)
		case 5:
			of, same := drawObject(t, depth-1)
			value, later = Nullable{of}, Nullable{same}
		default:
			var list, same []Object
			for range rapid.IntRange(0, 2).Draw(t, "items") {
				of, other := drawObject(t, depth-1)
				list, same = append(list, of), append(same, other)
			}
			value, later = list, Making(same, func(o *Object) Object { return *o })
		}
		if later == nil {
			later = value
		}
		optional := rapid.Bool().Draw(t, "optional")
		whole, streamed = append(whole, Member{key, value, optional}), append(streamed, Member{key, later, optional})
	}
	return whole, streamed
}

// A document that is written object by object is the one that encoding/json indents.
func TestWriteJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole, streamed := drawObject(t, 3)
		flat, err := whole.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		var want, got bytes.Buffer
		if err := json.Indent(&want, flat, "", "  "); err != nil {
			t.Fatal(err)
		}
		want.WriteString("\n")
		if err := WriteJSON(&got, streamed); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(CleanJSON(want.Bytes())), got.String()); diff != "" {
			t.Fatalf("differs (-want +got):\n%s", diff)
		}
	})
}

var errFull = errors.New("full")

// A fullDisk takes so many bytes.
type fullDisk struct{ room int }

func (d *fullDisk) Write(text []byte) (int, error) {
	if d.room -= len(text); d.room < 0 {
		return 0, errFull
	}
	return len(text), nil
}

// What cannot be written any more is not made either.
func TestWriteJSONEndsWithTheDisk(t *testing.T) {
	made := 0
	endless := func(yield func(Object) bool) {
		for ; yield(Of("text", strings.Repeat("x", 1000))); made++ {
			if made > 1000 {
				t.Fatal("it goes on for a disk that is full")
			}
		}
	}
	if err := WriteJSON(&fullDisk{100_000}, Of("list", Objects(endless))); !errors.Is(err, errFull) {
		t.Errorf("got %v", err)
	}
}

package editor

import (
	_ "embed"
	"encoding/json"
	"sync"
)

// blocksText says what may stand in each block of the language. It is made from the doc
// comments of the structs that the files are decoded into, which a test holds it to.
//
//go:embed blocks.json
var blocksText []byte

// A block is one block of the language, or the top of a file.
type block struct {
	File   string  `json:"file"` // scenario, catalog, rules or choices
	Name   string  `json:"name"` // its keyword; "" for the top of the file
	Labels []field `json:"labels,omitempty"`
	Fields []field `json:"fields,omitempty"`
}

// A field is one statement that a block takes, or one value of its own line.
type field struct {
	Keyword  string   `json:"keyword,omitempty"`
	About    string   `json:"about"`
	Takes    string   `json:"takes,omitempty"` // what stands behind the keyword; "" when About says so
	Words    []string `json:"words,omitempty"`
	Required bool     `json:"required,omitempty"`
	Repeats  bool     `json:"repeats,omitempty"`
	Opens    bool     `json:"opens,omitempty"` // it has a block
}

var blocks = sync.OnceValue(func() []block {
	var all []block
	if err := json.Unmarshal(blocksText, &all); err != nil {
		panic(err) // the embedded file is not what was tested
	}
	return all
})

// blockOf finds a block of a kind of file, or nil.
func blockOf(file, name string) *block {
	for i := range blocks() {
		if b := &blocks()[i]; b.File == file && b.Name == name {
			return b
		}
	}
	return nil
}

// field finds a field of the block, or nil; the block may be nil.
func (b *block) field(keyword string) *field {
	if b == nil {
		return nil
	}
	for i := range b.Fields {
		if b.Fields[i].Keyword == keyword {
			return &b.Fields[i]
		}
	}
	return nil
}

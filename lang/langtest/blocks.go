package langtest

import (
	"io/fs"
	"path"
	"slices"
	"strings"
	"testing"
)

// largestSeed is the most bytes of a seed for fuzzing. What a fuzzer does with a text, most
// of all to make one smaller that it finds interesting, takes time that grows with its size.
const largestSeed = 300

// Blocks gives the short statements, with their blocks, of all files of a tree whose names
// have one of the endings: seeds for fuzzing. Each is given once.
func Blocks(t testing.TB, tree fs.FS, endings ...string) []string {
	t.Helper()
	var blocks []string
	err := fs.WalkDir(tree, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !slices.Contains(endings, path.Ext(name)) {
			return err
		}
		text, err := fs.ReadFile(tree, name)
		for _, block := range cut(string(text)) {
			if len(block) <= largestSeed {
				blocks = append(blocks, block)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(blocks)
	return slices.Compact(blocks)
}

// cut cuts a text before each line that begins a statement of its own: one that is not
// indented and does not close a block.
func cut(text string) []string {
	var blocks []string
	begin := 0
	for at := 0; at < len(text); {
		if strings.IndexByte(" \t\r\n})", text[at]) < 0 && at > begin {
			blocks = append(blocks, text[begin:at])
			begin = at
		}
		end := strings.IndexByte(text[at:], '\n')
		if end < 0 {
			break
		}
		at += end + 1
	}
	if begin < len(text) {
		blocks = append(blocks, text[begin:])
	}
	return blocks
}

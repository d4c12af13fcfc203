package program

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"glassbrief/lang/langtest"
)

// unpacked unpacks the texts of programs by the script that stands in a page.
func unpacked(t *testing.T, packed ...string) [][]byte {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		langtest.Lacking(t, "node")
	}
	folder := t.TempDir()
	for i, p := range packed {
		if err := os.WriteFile(filepath.Join(folder, string(rune('a'+i))), []byte(p), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	script := "globalThis.self = globalThis;" + unpackScript + `
const fs = require("node:fs");
(async () => {
	for (const name of fs.readdirSync(".")) fs.writeFileSync(name, await self.unpack(fs.readFileSync(name, "latin1")));
})();`
	command := exec.CommandContext(t.Context(), node, "-e", script)
	command.Dir = folder
	if out, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	all := make([][]byte, len(packed))
	for i := range packed {
		if all[i], err = os.ReadFile(filepath.Join(folder, string(rune('a'+i)))); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

func TestUnpackGivesWhatWasPacked(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	programs := [][]byte{nil, []byte("a"), []byte("abcabcabcabcabc"), bytes.Repeat([]byte{0}, 300_000), bytes.Repeat([]byte("long piece "), 20_000)}
	for range 20 {
		var p []byte
		for len(p) < 1+r.IntN(200_000) {
			switch piece := r.IntN(600); r.IntN(4) {
			case 0:
				for range piece {
					p = append(p, byte(r.IntN(256)))
				}
			case 1:
				p = append(p, bytes.Repeat([]byte{byte(piece)}, piece)...)
			default:
				if len(p) > 0 {
					from := r.IntN(len(p))
					p = append(p, p[from:min(len(p), from+piece/8)]...)
				}
			}
		}
		programs = append(programs, p)
	}
	var packed []string
	for _, p := range programs {
		packed = append(packed, (&built{packed: pack(p)}).program().Text)
	}
	for i, got := range unpacked(t, packed...) {
		if !bytes.Equal(got, programs[i]) {
			t.Errorf("program %d of %d bytes comes back as another of %d", i, len(programs[i]), len(got))
		}
	}
}

package program

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
)

// format names the form of a file that holds an engine.
const format = "glassbrief engine 1"

// file gives an engine as a file: a line with the sum of all behind it, one with the hash of the program
// and the length of the starter, the starter, and the packed program.
func (b *built) file() []byte {
	var body bytes.Buffer
	fmt.Fprintf(&body, "%s %d\n", b.hash, len(b.starter))
	body.Write(b.starter)
	body.Write(b.packed)
	return append(fmt.Appendf(nil, "%s %s\n", format, sumOf(body.Bytes())), body.Bytes()...)
}

// open reads a file that holds an engine, and fails on one that is not whole.
func open(file []byte) (*built, error) {
	head, body, _ := bytes.Cut(file, []byte("\n"))
	if string(head) != format+" "+sumOf(body) {
		return nil, errors.New("its sum is not that of its content")
	}
	head, rest, _ := bytes.Cut(body, []byte("\n"))
	b := &built{}
	length := 0
	if _, err := fmt.Sscanf(string(head), "%s %d", &b.hash, &length); err != nil || length < 0 || length > len(rest) {
		return nil, errors.New("its head is of another version")
	}
	b.starter, b.packed = rest[:length], rest[length:]
	return b, nil
}

func sumOf(of []byte) string {
	sum := sha256.Sum256(of)
	return hex.EncodeToString(sum[:])
}

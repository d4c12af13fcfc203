package sheet

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"

	"glassbrief/lang"
)

// Limits on a workbook unpacked: a small file can hold a large one. Elements are counted
// before anything is built of them, for a cell of four bytes takes hundreds in memory.
const (
	maxUnpacked = 64 << 20
	maxElements = 4_000_000
)

// ReadXLSX reads the sheets of a workbook that hold something. Merged cells count for
// every row that they span; formulas count with the value that the workbook keeps.
func ReadXLSX(name string, r io.Reader) ([]*Sheet, lang.Diagnostics) {
	raw, err := lang.ReadLimited(r)
	if err != nil {
		return nil, unreadable(name, err)
	}
	if len(raw) > maxBytes {
		return nil, tooLarge(name, fmt.Sprintf("%d MB", maxBytes>>20))
	}
	archive, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return nil, unreadable(name, errors.New("it is no workbook of the kind XLSX"))
	}
	if ds := survey(name, archive); ds != nil {
		return nil, ds
	}
	book, err := openWorkbook(archive)
	if err != nil {
		return nil, unreadable(name, err)
	}
	var sheets []*Sheet
	for _, s := range book.sheets {
		name := name + "[" + s.title + "]"
		rows, err := book.read(s.part)
		if err != nil {
			return nil, unreadable(name, err)
		}
		if len(rows) > 0 {
			sheets = append(sheets, newSheet(name, s.title, rows))
		}
	}
	if sheets == nil {
		return nil, unreadable(name, errors.New("it holds no sheet with anything in it"))
	}
	return sheets, nil
}

// survey unpacks a workbook without keeping anything of it, and refuses one that is too
// large.
func survey(name string, archive *zip.Reader) lang.Diagnostics {
	bytesLeft, elements := int64(maxUnpacked), 0
	chunk := make([]byte, 64<<10)
	for _, part := range archive.File {
		reader, err := part.Open()
		if err != nil {
			return unreadable(name, err)
		}
		for err == nil {
			var n int
			n, err = reader.Read(chunk)
			elements += bytes.Count(chunk[:n], []byte("<"))
			if bytesLeft -= int64(n); bytesLeft < 0 || elements > 2*maxElements {
				reader.Close()
				return tooLarge(name, fmt.Sprintf("%d MB unpacked, or %d elements", maxUnpacked>>20, maxElements))
			}
		}
		reader.Close()
		if err != io.EOF {
			return unreadable(name, err)
		}
	}
	return nil
}

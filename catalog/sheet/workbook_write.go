package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"glassbrief/catalog"
)

// maxCellText is how many characters a cell of a workbook can hold.
const maxCellText = 32_767

// A sheet refers to the two looks of its cells by these numbers, which are their places in
// styles.
const (
	plainStyle = 0
	titleStyle = 1
)

// The parts of a workbook that are the same whatever it holds (ECMA-376 part 1, 12 and 18).
const (
	rootRelations = xml.Header + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`
	styles = xml.Header + `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` +
		`<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts>` +
		`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
		`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
		`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
		`<cellXfs count="2"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/></cellXfs></styleSheet>`
	// The row of titles stays in view, and columns are wide enough for most cells.
	sheetHead = xml.Header + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` +
		`<sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>` +
		`<cols><col min="1" max="%d" width="16" customWidth="1"/></cols><sheetData>`
	sheetFoot = `</sheetData></worksheet>`
)

// WriteXLSX writes lenses, cameras and filters as sheets of a workbook, with numbers as
// numbers and the titles kept in view. The same catalogue gives the same bytes.
func WriteXLSX(w io.Writer, c *catalog.Catalogue) error {
	out := zip.NewWriter(w)
	var types, sheets, relations strings.Builder
	for i, k := range kinds() {
		rows, err := export(c, k.keyword)
		if err != nil {
			return err
		}
		part, err := sheetXML(k.title, rows)
		if err != nil {
			return err
		}
		if err := writePart(out, fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), part); err != nil {
			return err
		}
		fmt.Fprintf(&types, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`, i+1)
		fmt.Fprintf(&sheets, `<sheet name="%s" sheetId="%d" r:id="rId%[2]d"/>`, k.title, i+1)
		fmt.Fprintf(&relations, `<Relationship Id="rId%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet%[1]d.xml"/>`, i+1)
	}
	for _, part := range []struct{ name, text string }{
		{"xl/workbook.xml", xml.Header + `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>` +
			sheets.String() + `</sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", xml.Header + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + relations.String() +
			`<Relationship Id="styles" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>`},
		{"xl/styles.xml", styles},
		{"_rels/.rels", rootRelations},
		{"[Content_Types].xml", xml.Header + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
			`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
			`<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>` +
			`<Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/>` + types.String() + `</Types>`},
	} {
		if err := writePart(out, part.name, []byte(part.text)); err != nil {
			return err
		}
	}
	return out.Close()
}

func writePart(out *zip.Writer, name string, text []byte) error {
	part, err := out.Create(name)
	if err != nil {
		return err
	}
	_, err = part.Write(text)
	return err
}

// sheetXML gives the part of one sheet, the titles in its first row.
func sheetXML(title string, rows [][]cell) ([]byte, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, sheetHead, len(rows[0]))
	for i, row := range rows {
		style := plainStyle
		if i == 0 {
			style = titleStyle
		}
		fmt.Fprintf(&b, `<row r="%d">`, i+1)
		for j, c := range row {
			at := address(i, j)
			switch {
			case len(c.text) > maxCellText:
				return nil, fmt.Errorf("%s of %q holds more than a cell of a workbook can: %d characters", at, title, len(c.text))
			case c.text == "":
			case c.exact:
				fmt.Fprintf(&b, `<c r="%s" s="%d"><v>%s</v></c>`, at, style, c.text)
			default:
				fmt.Fprintf(&b, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">`, at, style)
				if err := xml.EscapeText(&b, []byte(escape(c.text))); err != nil {
					return nil, err
				}
				b.WriteString(`</t></is></c>`)
			}
		}
		b.WriteString(`</row>`)
	}
	b.WriteString(sheetFoot)
	return b.Bytes(), nil
}

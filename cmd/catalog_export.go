package cmd

import (
	"io"
	"path/filepath"
	"strings"

	"glassbrief/catalog/sheet"

	"github.com/spf13/cobra"
)

// catalogExport is the verb that gives equipment out as a spreadsheet.
func (a *app) catalogExport(files *[]string) *cobra.Command {
	kind := choice{value: "lens", words: sheet.KindNames()}
	c := &cobra.Command{
		Use: "export", Short: "give lenses, cameras or filters out as a spreadsheet", Args: noArguments,
		Long: `Prints one kind of equipment as CSV, or writes lenses, cameras and filters as
the sheets of a workbook when -o names a file that ends in .xlsx. "catalog
import" reads both back without loss. No cell is one that a spreadsheet runs as
a formula.`,
		Example: "  glassbrief catalog export\n  glassbrief catalog export --kind camera -o cameras.csv\n  glassbrief catalog export -o kit.xlsx",
		RunE: func(*cobra.Command, []string) error {
			if a.form.value != "text" && a.form.value != "csv" {
				return a.noForm()
			}
			c, err := a.readCatalogue(*files)
			if err != nil {
				return err
			}
			if strings.EqualFold(filepath.Ext(a.output), ".xlsx") {
				return a.write(func(w io.Writer) error { return sheet.WriteXLSX(w, c) })
			}
			return a.write(func(w io.Writer) error { return sheet.WriteCSV(w, c, kind.value) })
		},
	}
	c.Flags().Var(&kind, "kind", "what to print as CSV, as a `word`: "+strings.Join(kind.words, ", "))
	return c
}

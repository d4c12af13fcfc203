package cmd

import (
	"io"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/catalog/table"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// catalogExport is the verb that gives equipment out as a spreadsheet.
func (a *app) catalogExport(files *[]string) *cobra.Command {
	kind := "lens"
	c := &cobra.Command{
		Use: "export", Short: "give lenses, cameras or filters out as a spreadsheet", Args: noArguments,
		Long: `Prints one kind of equipment as CSV, or writes lenses, cameras and filters as
the sheets of a workbook when -o names a file that ends in .xlsx. "catalog
import" reads both back without loss. No cell is one that a spreadsheet runs as
a formula.`,
		Example: "  glassbrief catalog export\n  glassbrief catalog export --kind camera -o cameras.csv\n  glassbrief catalog export -o kit.xlsx",
		RunE: func(*cobra.Command, []string) error {
			if !slices.Contains(table.KindNames(), kind) {
				return usage(lang.UnknownWord, "%q does not take %q", "--kind", kind).
					or(lang.Nearest(kind, table.KindNames())).because("It takes %s.", lang.Quoted(table.KindNames()))
			}
			c, err := a.readCatalogue(*files)
			if err != nil {
				return err
			}
			if strings.EqualFold(filepath.Ext(a.output), ".xlsx") {
				return a.write(func(w io.Writer) error { return table.WriteXLSX(w, c) })
			}
			return a.write(func(w io.Writer) error { return table.WriteCSV(w, c, kind) })
		},
	}
	c.Flags().StringVar(&kind, "kind", kind, "what to print as CSV, as a `word`: "+strings.Join(table.KindNames(), ", "))
	complete(c, "kind", table.KindNames())
	return c
}

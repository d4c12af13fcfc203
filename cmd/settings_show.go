package cmd

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// settingsData is what "settings" says to programs.
type settingsData struct {
	travel.Header
	Settings []settingData `json:"settings"`
}

type settingData struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	From  string `json:"from"`
	About string `json:"about"`
}

// showSettings is the verb that says which settings hold, and why.
func (a *app) showSettings() *cobra.Command {
	return &cobra.Command{
		Use:   "settings [FILE]",
		Short: "the settings that hold, and where each comes from",
		Long: `Prints each setting with its value and where that comes from: a flag, the
environment, a line of a file, or nothing where it is as usual. Settings hold
for the scenario that is named, or for those of a folder; without one, for those
of the working folder.

They are read from the user's file, then from glassbrief.yaml in each folder
from the root of the repository, which holds .git, down to that of the scenario:
what a nearer file sets comes first, and what it does not set stays. Outside of
a repository only the scenario's own folder counts. Paths in a file are read
against its own folder.`,
		Example: `  glassbrief settings
  glassbrief settings night-ferry.scenario --as json`,
		Args: atMostOne("file"),
		RunE: func(_ *cobra.Command, args []string) error {
			of := "-" // as a scenario from standard input, which belongs to the working folder
			if len(args) == 1 {
				info, err := os.Stat(args[0])
				if err != nil {
					return unreadable(args[0], err)
				}
				if of = args[0]; info.IsDir() {
					of = filepath.Join(args[0], "-")
				}
			}
			if err := a.loadSettings(of); err != nil {
				return err
			}
			data := settingsData{travel.HeaderOf("settings"), nil}
			values := reflect.ValueOf(a.settings).Elem()
			for _, row := range settingTable {
				data.Settings = append(data.Settings, settingData{row.name, settingText(values, row.name), a.settingFrom(row.name), row.about})
			}
			return a.show(view{data: data, rows: rowsOf(data.Settings), page: func(lang.Printer) show.Page { return settingsPage(data.Settings) }})
		},
	}
}

// settingText writes the value of a setting as a file may have it.
func settingText(settings reflect.Value, name string) string {
	for i := range settings.NumField() {
		if settings.Type().Field(i).Tag.Get("mapstructure") != name {
			continue
		}
		value := settings.Field(i).Interface()
		if list, ok := value.([]string); ok {
			return strings.Join(list, ", ")
		}
		return textOf(value, lang.Printer{})
	}
	return ""
}

func settingsPage(settings []settingData) show.Page {
	var out show.Page
	g := show.Grid{Columns: []show.Column{{Title: "setting"}, {Title: "value", Wraps: true}, {Title: "from", Wraps: true}, {Title: "is", Wraps: true}}}
	for _, s := range settings {
		g.Rows = append(g.Rows, []show.Cell{{Text: s.Name, Tone: show.Strong}, {Text: s.Value}, {Text: s.From}, {Text: s.About}})
	}
	out.Grid(g)
	return out
}

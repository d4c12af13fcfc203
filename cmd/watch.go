package cmd

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/debug"

	"glassbrief/cmd/report"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// watch is the verb that shows the report in a browser while its scenario is written.
func (a *app) watch() *cobra.Command {
	var camera string
	var port uint16
	c := &cobra.Command{
		Use:   "watch SCENARIO",
		Short: "show the report in a browser, anew after each save",
		Long: `Serves the report of a scenario to a browser on this machine, and shows it anew
whenever the scenario or a file that it reads is saved. While a file is broken
the page says what is wrong. Nothing is reachable from other machines. It ends
with Ctrl-C.`,
		Example: `  glassbrief watch night-ferry.scenario
  glassbrief watch night-ferry.scenario --port 8080`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if args[0] == "-" {
				return usage(lang.NotAllowed, "standard input cannot be watched").because("Name a file.")
			}
			if _, err := os.Stat(args[0]); err != nil {
				return unreadable(args[0], err)
			}
			listener, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
			if err != nil {
				return usage(lang.NotAllowed, "port %d cannot be had: %s", port, reasonOf(err)).because("Leave --port out, and a free one is taken.")
			}
			ctx, stop := signal.NotifyContext(c.Context(), os.Interrupt)
			defer stop()
			fmt.Fprintf(a.stdout, "http://%s/ shows %s; Ctrl-C ends it\n", listener.Addr(), args[0])
			return a.serve(ctx, listener, args[0], camera)
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	c.Flags().Uint16Var(&port, "port", 0, "the `port` to listen on; 0 takes a free one")
	return c
}

// serve shows a scenario until the context ends.
func (a *app) serve(ctx context.Context, listener net.Listener, path, camera string) error {
	files, err := newSaves()
	if err != nil {
		return err
	}
	defer files.Close()
	shown := newLivePage()
	read := a.showLive(ctx, shown, path, camera)
	files.follow(read)
	failed := make(chan error, 1)
	go func() { failed <- shown.serve(ctx, listener) }()
	for {
		select {
		case <-ctx.Done():
			return <-failed
		case err := <-failed:
			return err
		case <-files.Saved():
			files.follow(a.showLive(ctx, shown, path, camera))
		}
	}
}

// showLive makes the page of a scenario and shows it, and gives the files that it was
// made from.
func (a *app) showLive(ctx context.Context, shown *livePage, path, camera string) (read []string) {
	a.forget()
	read = append(a.settingsRead(path), path)
	var b bytes.Buffer
	err := a.withFiles(path, func(src *lang.Source, files brief.Files) (err error) {
		defer func() { // a fault of the program costs this page and no more
			if fault := recover(); fault != nil {
				a.reportFault(fault, debug.Stack())
				err = lang.Diagnostics{{Severity: lang.Error, Code: lang.InternalFault, Summary: "a fault of the program, not of your files: " + fmt.Sprint(fault), Detail: "Please report it; the terminal says more."}}
			}
		}()
		noted := &notedFS{FS: files.Tree}
		files.Tree = noted
		scenario, found := brief.Load(src, files)
		for _, name := range noted.names {
			read = append(read, filepath.Join(filepath.Dir(path), filepath.FromSlash(name)))
		}
		if found.HasErrors() {
			return found
		}
		whole, err := answer.Of(ctx, scenario, engine.Options{Camera: camera, Runners: answer.Runners, Hold: answer.Ranked})
		if err != nil {
			return err
		}
		shown.last, shown.printer = whole, a.printer()
		return nil
	})
	w := report.Writer{Live: shown.next(), Printer: shown.printer}
	if err != nil {
		w.Found = diagnosticsOf(err)
	}
	if shown.last != nil {
		err = w.Recommendation(&b, shown.last)
	} else {
		err = w.Faults(&b, filepath.Base(path), w.Found)
	}
	if err == nil {
		shown.show(b.Bytes())
	}
	return read
}

// settingsRead lists the files of settings, and what they name.
func (a *app) settingsRead(path string) []string {
	var read []string
	for _, file := range a.settingsFiles(path) {
		read = append(read, file.path)
	}
	if err := a.loadSettings(path); err == nil {
		read = append(append(read, a.settings.Catalogues...), a.settings.Rules...)
	}
	return read
}

// A notedFS notes the names of the files that are opened.
type notedFS struct {
	fs.FS
	names []string
}

func (n *notedFS) Open(name string) (fs.File, error) {
	n.names = append(n.names, name)
	return n.FS.Open(name)
}

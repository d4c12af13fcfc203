// Command tested reads what "go test -json" prints, and shows a line for each package, the
// output of each test that failed, and each test that was skipped. It fails when a test
// failed or was skipped.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
)

type event struct {
	Action, Package, Test, Output, ImportPath string
	Elapsed                                   float64
}

func main() {
	failed, skipped := 0, 0
	output := map[[2]string]*strings.Builder{} // of each package and test that is not yet done
	events := json.NewDecoder(os.Stdin)
	for {
		var e event
		if err := events.Decode(&e); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			fmt.Println("the output of go test is no JSON:", err)
			os.Exit(1)
		}
		of := [2]string{e.Package, e.Test}
		switch e.Action {
		case "build-output":
			fmt.Print(e.Output)
		case "build-fail":
			failed++
		case "output":
			if output[of] == nil {
				output[of] = &strings.Builder{}
			}
			output[of].WriteString(e.Output)
			continue
		case "fail":
			failed++
			fmt.Printf("FAIL %s %s (%.1f s)\n", e.Package, e.Test, e.Elapsed)
			for other, text := range output {
				if other == of || e.Test == "" && other[0] == e.Package { // a test that a panic cut off has no end
					fmt.Print(text)
					delete(output, other)
				}
			}
		case "skip":
			if e.Test != "" { // else the package has no tests
				skipped++
				fmt.Printf("SKIP %s %s\n%s", e.Package, e.Test, output[of])
			}
		case "pass":
			if e.Test == "" {
				fmt.Printf("ok   %6.1f s  %s\n", e.Elapsed, e.Package)
			}
		default:
			continue
		}
		delete(output, of)
	}
	if skipped > 0 {
		fmt.Printf("%d tests were skipped, and every one must run here\n", skipped)
	}
	if failed+skipped > 0 {
		os.Exit(1)
	}
}

// Command engine builds the engine of the what-if page into a file, as a release embeds it.
package main

import (
	"context"
	"fmt"
	"os"

	"glassbrief/cmd/whatif/program"
)

func main() {
	file, err := program.Build(context.Background(), func(done, total int) {})
	if err == nil {
		err = os.WriteFile(os.Args[1], file, 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Printf("%s: %d bytes\n", os.Args[1], len(file))
}

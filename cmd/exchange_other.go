//go:build !linux

package cmd

// exchange gives a temporary file the name of another, and gives what stood there just before.
func exchange(temporary, target string) (displaced []byte, err error) {
	return takeName(temporary, target)
}

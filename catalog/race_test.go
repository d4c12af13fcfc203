//go:build race

package catalog_test

// raced says that the race detector runs, which slows different code by different factors.
func init() { raced = true }

// Command cmd writes the evidence table into README.md. It is run from the module's root.
package main

import (
	"fmt"
	"os"

	"shimsheet/internal/evidence"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	checks, err := evidence.Collect(".")
	if err != nil {
		return err
	}
	old, err := os.ReadFile("README.md")
	if err != nil {
		return err
	}
	doc, err := evidence.Splice(string(old), evidence.Markdown(checks))
	if err != nil || doc == string(old) {
		return err
	}
	return os.WriteFile("README.md", []byte(doc), 0o644)
}

// Command cmd writes the evidence into EVIDENCE.md and README.md. It is run from the module's root.
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
	for _, d := range evidence.Documents {
		old, err := os.ReadFile(d.Name)
		if err != nil {
			return err
		}
		doc, err := d.Splice(string(old), checks)
		if err != nil {
			return err
		}
		if doc != string(old) {
			if err := os.WriteFile(d.Name, []byte(doc), 0o644); err != nil {
				return err
			}
		}
	}
	return nil
}

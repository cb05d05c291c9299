// Command gen makes keys.go of the catalogue: a name for each text below the line words.Named. It is run by go generate.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"shimsheet/internal/words"
)

func main() {
	text, err := os.ReadFile("catalogue.txt")
	if err == nil {
		var keys []byte
		if keys, err = words.Names(string(text)); err == nil {
			err = os.WriteFile(filepath.Join(".", "keys.go"), keys, 0o644)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

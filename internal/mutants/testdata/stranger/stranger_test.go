// Package stranger has nothing to do with toy.
package stranger

import "testing"

func TestNothing(*testing.T) {}

//go:build js

package digest

// Sum is the SHA-256 of b.
func Sum(b []byte) [Size]byte { return small(b) }

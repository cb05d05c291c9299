//go:build !js

package digest

import "crypto/sha256"

// Sum is the SHA-256 of b.
func Sum(b []byte) [Size]byte { return sha256.Sum256(b) }

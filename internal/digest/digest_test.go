package digest

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"math/rand/v2"
	"testing"
)

// The examples of NIST for SHA-256 (FIPS 180-2, appendix B; the empty message: the response files of the Cryptographic Algorithm Validation Program), and the standard
// library on every length around the ends of blocks and on random texts.
func TestSum(t *testing.T) {
	for text, want := range map[string]string{
		"":    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
		"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
		"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
		string(bytes.Repeat([]byte("a"), 1_000_000)):               "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
	} {
		for name, sum := range map[string][Size]byte{"this package's": small([]byte(text)), "the one in use": Sum([]byte(text))} {
			if got := hex.EncodeToString(sum[:]); got != want {
				t.Errorf("%s, %d bytes: %s, want %s", name, len(text), got, want)
			}
		}
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for n := range 300 {
		b := make([]byte, n)
		for i := range b {
			b[i] = byte(rng.Uint32())
		}
		if small(b) != sha256.Sum256(b) {
			t.Errorf("%d bytes", n)
		}
	}
}

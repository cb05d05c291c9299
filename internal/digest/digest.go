// Package digest is SHA-256, as FIPS 180-4 describes it, in one small function. The programs that run natively use the standard library's, which the processor helps;
// the page uses this one: what the library's needs around it (a random generator, AES, SHA-3, tests of itself when a program starts) is a fortieth of the page's program.
package digest

import (
	"encoding/binary"
	"math/bits"
)

// Size is the length of a digest in bytes.
const Size = 32

// round are the first 32 bits of the fractional parts of the cube roots of the first 64 primes.
var round = [64]uint32{
	0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5, 0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
	0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da, 0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
	0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85, 0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
	0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
}

// small is the digest by the code of this package.
func small(b []byte) (out [Size]byte) {
	// The first 32 bits of the fractional parts of the square roots of the first eight primes.
	h := [8]uint32{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19}
	n := len(b)
	for ; len(b) >= 64; b = b[64:] {
		block(&h, b[:64])
	}
	// What is left, a one, zeros, and the length in bits.
	var tail [128]byte
	end := 64
	if copy(tail[:], b) >= 56 {
		end = 128
	}
	tail[len(b)] = 0x80
	binary.BigEndian.PutUint64(tail[end-8:], uint64(n)<<3)
	for at := 0; at < end; at += 64 {
		block(&h, tail[at:at+64])
	}
	for i, x := range h {
		binary.BigEndian.PutUint32(out[4*i:], x)
	}
	return out
}

// block takes 64 bytes into the state.
func block(state *[8]uint32, p []byte) {
	var w [64]uint32
	for i := range 16 {
		w[i] = binary.BigEndian.Uint32(p[4*i:])
	}
	for i := 16; i < 64; i++ {
		x, y := w[i-15], w[i-2]
		w[i] = w[i-16] + (bits.RotateLeft32(x, -7) ^ bits.RotateLeft32(x, -18) ^ x>>3) + w[i-7] + (bits.RotateLeft32(y, -17) ^ bits.RotateLeft32(y, -19) ^ y>>10)
	}
	a, b, c, d, e, f, g, h := state[0], state[1], state[2], state[3], state[4], state[5], state[6], state[7]
	for i := range w {
		t := h + (bits.RotateLeft32(e, -6) ^ bits.RotateLeft32(e, -11) ^ bits.RotateLeft32(e, -25)) + (e&f ^ ^e&g) + round[i] + w[i]
		u := (bits.RotateLeft32(a, -2) ^ bits.RotateLeft32(a, -13) ^ bits.RotateLeft32(a, -22)) + (a&b ^ a&c ^ b&c)
		a, b, c, d, e, f, g, h = t+u, a, b, c, d+t, e, f, g
	}
	for i, x := range [8]uint32{a, b, c, d, e, f, g, h} {
		state[i] += x
	}
}

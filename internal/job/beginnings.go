package job

// A list of thousands of rows has hundreds of thousands of cells of words, and each could be the name of a column in a header further down. beginnings tells most of them from a name by the
// first four letters of their normal form: a set of hashes of how the spellings of a sheet begin. It may say yes of a text that is no name; it never says no of one that is, whatever unit
// or other word stands behind the name.
type beginnings [2048]uint32

// namesBegin are the beginnings of each sheet's spellings; made with the columns.
var namesBegin [NumSheets]beginnings

// A hashed text is the letters so far; bit is its place in the set.
type hashed uint32

func (h hashed) with(c byte) hashed { return (h ^ hashed(c)) * 0x01000193 }
func (h hashed) bit() (word, mask uint32) {
	x := uint32(h) * 0x9e3779b1 >> 16
	return x >> 5, 1 << (x & 31)
}

// add takes a normal form in: its first four bytes, or all of a shorter one.
func (b *beginnings) add(normal string) {
	h := hashed(0)
	for i := range min(len(normal), 4) {
		h = h.with(normal[i])
	}
	word, mask := h.bit()
	b[word] |= mask
}

// mayBegin says whether a text can begin with the name of a column of a sheet. Of one with a bracket among its first letters it says so always: a unit may stand there.
func mayBegin(kind SheetKind, text string) bool {
	b := &namesBegin[kind]
	h, n := hashed(0), 0
	for i := 0; i < len(text) && n < 4; i++ {
		c := text[i]
		switch {
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
		case 'A' <= c && c <= 'Z':
			c += 'a' - 'A'
		case c == '[' || c == '(' || c == '&' || c >= 0x80: // rare, and their normal form is not made byte by byte
			return true
		default:
			continue
		}
		h = h.with(c)
		n++
		if word, mask := h.bit(); b[word]&mask != 0 { // a name of so many letters, or the first four of a longer one
			return true
		}
	}
	return false
}

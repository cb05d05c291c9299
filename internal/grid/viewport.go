package grid

// The separators of a viewport string: behind each cell and behind each row.
const (
	CellEnd = '\x1f'
	RowEnd  = '\x1e'
)

// A Source supplies what the model does not know. Rows are stored ones; for the spare rows they are not below len(Rows()).
type Source interface {
	AppendResult(dst []byte, row, k int) []byte // text of the read-only column k
	Mark(row, c int) byte                       // a printable sign for how the cell is to be marked; c as Model.Column gives it
}

// A Shower is a Source that shows some cells in another form than typed.
type Shower interface {
	AppendShown(dst []byte, row, c int) (out []byte, ok bool) // not ok: the text as typed
}

// AppendViewport appends the shown cells of columns x0 … x1−1 and rows y0 … y1−1, row by row: for each cell one byte from Mark, the
// text and CellEnd; RowEnd behind each row. The two separators cannot stand in a cell: they are shown as a blank.
func (m *Model) AppendViewport(dst []byte, x0, y0, x1, y1 int, src Source) []byte {
	x0, y0 = max(x0, 0), max(y0, 0)
	x1, y1 = min(x1, len(m.order)), min(y1, m.Height())
	shower, _ := src.(Shower)
	for y := y0; y < y1; y++ {
		r := m.Stored(y)
		for x := x0; x < x1; x++ {
			c := m.order[x]
			dst = append(dst, src.Mark(r, c))
			n := len(dst)
			if c >= 0 {
				shown := false
				if shower != nil {
					dst, shown = shower.AppendShown(dst, r, c)
				}
				if !shown {
					dst = append(dst, m.Cell(r, c)...)
				}
			} else if r < len(m.rows) {
				dst = src.AppendResult(dst, r, ^c)
			}
			for i := n; i < len(dst); i++ {
				if dst[i] == CellEnd || dst[i] == RowEnd {
					dst[i] = ' '
				}
			}
			dst = append(dst, CellEnd)
		}
		dst = append(dst, RowEnd)
	}
	return dst
}

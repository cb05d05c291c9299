package job

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/jsonread"
	"shimsheet/internal/words"
)

// UnmarshalJSON opens a saved job. A job of an older version opens; one of a newer version is refused with a sentence, as is anything
// that is not a job. On error the job is unchanged.
func (j *Job) UnmarshalJSON(data []byte) error { return j.Open(string(data)) }

// Open is UnmarshalJSON of a text that the job may keep parts of: a large one is not copied.
func (j *Job) Open(text string) error {
	var n Job
	r := jobReader{Reader: jsonread.New(text)}
	err := r.job(&n)
	if err != nil || r.format != jobFormat || r.version > jobVersion {
		if other := checkHead(text); other != nil {
			return other
		}
		return jobBroken(text, err)
	}
	if n.Machines == nil {
		n.Machines = &Table{Name: MachinesSheet.String(), FirstRow: 1}
	}
	if n.ID == "" {
		n.ID = NewJob().ID
	}
	*j = n
	return nil
}

// checkHead says what is wrong with a text that is not the JSON form of a job of a version known here. All of the text is looked at before anything is said of
// what is in it: a damaged file is damaged first.
func checkHead(text string) error {
	r := jobReader{Reader: jsonread.New(text)}
	format, version := "", 0
	err := r.Object(func(key string) (err error) {
		switch {
		case strings.EqualFold(key, "format"):
			format, err = r.Text()
		case strings.EqualFold(key, "version"):
			version, err = r.int()
		default:
			err = r.Skip()
		}
		return err
	})
	if err == nil {
		err = r.End()
	}
	switch {
	case err != nil:
		return jobBroken(text, err)
	case format != jobFormat:
		return words.Error(words.ProblemNotAJob)
	case version > jobVersion:
		return errors.New(words.ProblemJobNewer.Say(version, jobVersion))
	}
	return nil
}

// jobBroken says what is wrong with a saved job, and in which line. A NUL byte was once told without its place.
func jobBroken(text string, err error) error {
	at := (*jsonread.Error)(nil)
	if !errors.As(err, &at) || text == "" {
		return words.ProblemJobBroken.Wrap(err)
	}
	return words.ProblemJobBrokenAt.Wrap(err, 1+strings.Count(text[:at.At], "\n"), at.At+1)
}

// A jobReader reads the parts of a job.
type jobReader struct {
	jsonread.Reader
	format  string
	version int
	cells   []string // room for the cells of rows
	row     []string // the one at hand
}

// What a job and a sheet of it may have. The case of keys is not looked at.
var (
	jobMembers   = append([]string{"format", "version", "id", "revision", "saved_at", "saved_before", "views"}, tableKeys[:]...)
	tableMembers = []string{"name", "file", "first_row", "title", "header", "rows"}
)

// members calls read for each member of an object that has one of the names and is not null, to read its value. Another name is passed over, unless a list or an
// object stands under it: that may be a sheet, or rows, under another name, and would be lost. So would the first of two members of one name.
func (r *jobReader) members(names []string, read func(name string) error) error {
	seen := make([]bool, len(names))
	return r.Object(func(key string) error {
		i := slices.IndexFunc(names, func(name string) bool { return strings.EqualFold(name, key) })
		kind := r.Kind()
		switch {
		case i < 0 && (kind == jsonread.List || kind == jsonread.Object):
			return r.Wrong("%s", words.ProblemJobUnknown.Say(strconv.Quote(key)))
		case i >= 0 && seen[i]:
			return r.Wrong("%s", words.ProblemJobTwice.Say(strconv.Quote(key)))
		case i < 0:
			return r.Skip()
		}
		if seen[i] = true; kind == jsonread.Null {
			return r.Skip()
		}
		return read(names[i])
	})
}

// job reads all of a job, to the end of the text.
func (r *jobReader) job(j *Job) error {
	err := r.members(jobMembers, func(name string) (err error) {
		switch name {
		case "format":
			r.format, err = r.Text()
		case "version":
			r.version, err = r.int()
		case "id":
			j.ID, err = r.Text()
		case "revision":
			j.Revision, err = r.int()
		case "saved_at":
			j.SavedAt, err = r.Text()
		case "saved_before":
			j.SavedBefore, err = r.texts()
			j.SavedBefore = j.SavedBefore[max(0, len(j.SavedBefore)-MostSavedBefore):]
		case "views":
			j.Views, err = r.views()
		default:
			t := new(Table)
			j.SetTable(SheetKind(slices.Index(tableKeys[:], name)), t)
			err = r.table(t)
		}
		return err
	})
	if err != nil {
		return err
	}
	return r.End()
}

// table reads a sheet.
func (r *jobReader) table(t *Table) error {
	return r.members(tableMembers, func(name string) (err error) {
		switch name {
		case "name":
			t.Name, err = r.Text()
		case "file":
			t.File, err = r.Text()
		case "first_row":
			t.FirstRow, err = r.int()
		case "title":
			t.Title, err = r.rows()
		case "header":
			t.Header, err = r.texts()
		case "rows":
			t.Rows, err = r.rows()
		}
		return err
	})
}

// views reads how a job was shown last, which never keeps it from opening: what is no text is left out.
func (r *jobReader) views() (map[string]string, error) {
	if r.Kind() != jsonread.Object {
		return nil, r.Skip()
	}
	var views map[string]string
	err := r.Object(func(key string) error {
		if r.Kind() != jsonread.Text {
			return r.Skip()
		}
		text, err := r.Text()
		if text != "" {
			if views == nil {
				views = map[string]string{}
			}
			views[key] = text
		}
		return err
	})
	return views, err
}

// rows reads rows of cells.
func (r *jobReader) rows() ([][]string, error) {
	rows := [][]string{}
	err := r.List(func() error {
		row, err := r.texts()
		rows = append(rows, row)
		return err
	})
	return rows, err
}

// texts reads a list of texts. Many lists share room, none can grow into the next.
func (r *jobReader) texts() ([]string, error) {
	r.row = r.row[:0]
	err := r.List(func() error {
		t, err := r.Text()
		r.row = append(r.row, t)
		return err
	})
	n := len(r.row)
	if r.cells == nil || cap(r.cells)-len(r.cells) < n {
		r.cells = make([]string, 0, max(n, 4096))
	}
	k := len(r.cells)
	r.cells = append(r.cells, r.row...)
	return r.cells[k:len(r.cells):len(r.cells)], err
}

func (r *jobReader) int() (n int, err error) {
	digits, err := r.Number()
	if err != nil || digits == "" {
		return 0, err
	}
	if n, err = strconv.Atoi(digits); err != nil {
		return 0, r.Wrong("%s", words.ProblemNotACount.Say(digits))
	}
	return n, nil
}

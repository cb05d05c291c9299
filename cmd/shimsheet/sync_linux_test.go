package main

import (
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// What does not reach the disk takes no file's place: here the file that is being written becomes a pipe, which cannot be brought onto a disk (fsync(2): EINVAL).
func TestWhatIsNotOnTheDisk(t *testing.T) {
	dir := in(t, map[string]string{"old.json": "old"})
	name := filepath.Join(dir, "old.json")
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	defer w.Close()
	err = writeFile(name, func(to io.Writer) error { return syscall.Dup3(int(w.Fd()), int(to.(*os.File).Fd()), 0) })
	data, _ := os.ReadFile(name)
	left, _ := os.ReadDir(dir)
	if err == nil || string(data) != "old" || len(left) != 1 {
		t.Errorf("%v, %q, %v", err, data, left)
	}
}

package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"sync"
	"syscall"

	"shimsheet/internal/words"
)

// sameFile says whether two names lead to one file: by another spelling, a link of either kind, or a file system that folds case.
func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// unfinished is the file that is being written and has not taken its name yet; nil none. Whoever makes, renames or removes one holds the lock.
var unfinished struct {
	sync.Mutex
	f *os.File
}

// endOnSignals ends the program when it is interrupted, told to end or loses its terminal: the file being written is taken away, the old one of
// that name stays, and the status is 128 and the signal's number. A signal that whoever started the program has had ignored stays ignored.
func endOnSignals(stderr io.Writer) {
	c := make(chan os.Signal, 1)
	for _, s := range endings {
		if !signal.Ignored(s) {
			signal.Notify(c, s)
		}
	}
	go func() {
		s := <-c
		unfinished.Lock() // for good: nothing is renamed any more
		what := words.CommandStopped.String()
		if f := unfinished.f; f != nil {
			f.Close()
			os.Remove(f.Name())
			what = words.CommandStoppedUnwritten.String()
		}
		fmt.Fprintf(stderr, "shimsheet: %s\n", what)
		status := 128
		if n, ok := s.(syscall.Signal); ok {
			status += int(n)
		}
		os.Exit(status)
	}()
}

// target is the file that a name stands for: what its symbolic links lead to, whether that is there or not.
func target(name string) (string, error) {
	for range 40 {
		to, err := os.Readlink(name)
		if err != nil {
			return name, nil // no link, or nothing there
		}
		if !filepath.IsAbs(to) {
			to = filepath.Dir(name) + string(filepath.Separator) + to // not Join: .. after a linked directory is for the system to follow
		}
		name = to
	}
	return "", errors.New(words.CommandLinkCircle.String())
}

// writeFile writes to a file beside the wanted one and puts it in its place at the end: there is never half a file under the name. A symbolic link
// stays, and what it leads to is written.
func writeFile(name string, write func(io.Writer) error) (err error) {
	defer func() {
		if err != nil {
			var p *fs.PathError
			if errors.As(err, &p) {
				err = p.Err
			}
			err = words.CommandNotWritten.Wrap(err, name)
		}
	}()
	to, err := target(name)
	if err != nil {
		return err
	}
	mode := fs.FileMode(0o644)
	if st, err := os.Stat(to); err == nil {
		if !st.Mode().IsRegular() {
			return errors.New(words.CommandNoOrdinaryFile.String())
		}
		mode = st.Mode().Perm()
	}
	f, err := begin(filepath.Dir(to))
	if err != nil {
		return err
	}
	if err := fill(f, mode, write); err != nil {
		finish(f, "")
		return err
	}
	return finish(f, to)
}

// fill writes a file, says who may read it, and brings it onto the disk.
func fill(f *os.File, mode fs.FileMode, write func(io.Writer) error) error {
	if err := write(f); err != nil {
		return err
	}
	if err := f.Chmod(mode); err != nil && runtime.GOOS != "windows" && runtime.GOOS != "js" {
		return err
	}
	return f.Sync()
}

// begin makes the file that is written first.
func begin(dir string) (*os.File, error) {
	unfinished.Lock()
	defer unfinished.Unlock()
	f, err := os.CreateTemp(dir, ".shimsheet-*")
	unfinished.f = f
	return f, err
}

// finish gives the file its name, or takes it away if it has none.
func finish(f *os.File, name string) error {
	unfinished.Lock()
	defer unfinished.Unlock()
	unfinished.f = nil
	err := f.Close()
	if err == nil && name != "" {
		err = os.Rename(f.Name(), name)
	}
	if err != nil || name == "" {
		os.Remove(f.Name())
	}
	return err
}

//go:build js

package abreast

func cores() int { return 1 }

func share(_, _, _ int, _ func(worker int) func(from, to int)) {}

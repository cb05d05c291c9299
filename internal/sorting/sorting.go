// Package sorting is one sort for every kind of list.
package sorting

import "slices"

// By sorts a list; equal ones stay in the order they came. One sort, of indices, serves every kind of list: the library's writes its code anew for
// each, twelve kilobytes of the page's program every time.
func By[T any](list []T, compare func(a, b *T) int) {
	at := make([]int32, len(list))
	for i := range at {
		at[i] = int32(i)
	}
	slices.SortFunc(at, func(i, j int32) int {
		if c := compare(&list[i], &list[j]); c != 0 {
			return c
		}
		return int(i - j)
	})
	was := slices.Clone(list)
	for i, k := range at {
		list[i] = was[k]
	}
}

// Stable is By for a comparison of values, with which the library's sorts are called.
func Stable[S ~[]T, T any](list S, compare func(a, b T) int) {
	By(list, func(a, b *T) int { return compare(*a, *b) })
}

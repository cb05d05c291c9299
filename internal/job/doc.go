// Package job is what people typed: the sheets of a job with every text as it was, what their columns are called and hold, how a cell is read, and the
// file a job is kept in.
//
// Start with [NewJob], or with [ReadDelimited] and [Table.SplitHeader] to get a [Table] out of a text; [Job.Open] and [Job.Seal] read and write the file. [Columns] is
// the one table of columns: reading, the printed reference, the help in the page and the header block to copy all use it. [ParseQuantity] and its like read
// one cell; what cannot be read becomes a [Problem] with its place, cause and hint.
//
// A cell's unit is its own, else that of its column's header, else the job's. Nothing is worked out here: what the rows come to is for package evaluate.
package job

// Package input reads the TOML files of the program strictly and keeps, for
// every key and value, where it stands in the file.
//
// Parse guards, decodes and indexes a file; Document and Table let a caller
// take values out of it by name and note what is wrong with them, so that all
// problems of a file can be shown at once, in the order of the file and each
// with its line, column, a caret and a hint. Table.Close turns every key that
// nobody asked for into a problem. Splice changes single values and leaves
// every other byte as the user wrote it.
//
// A value that feeds a calculation is a Figure: a named input with its
// distribution. Figures registers them, Values holds one plain number for each,
// and a Set records which of them a result rests on.
//
// # Foreign text
//
// Text from a file, a path, the environment or an error reaches a terminal or a
// log only through Clean. Everything in a Problem has been cleaned already.
//
// # Two readers
//
// github.com/BurntSushi/toml decodes the values. It gives no position for most
// of them and needs unbounded time for hostile nesting, so the parser of
// github.com/pelletier/go-toml/v2/unstable walks over the file first: it
// enforces the limits and yields the positions. Only walk.go touches the
// latter, and only decode.go the former.
package input

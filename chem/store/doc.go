// Package store reads and saves the files of the user without ever losing or
// mixing their contents.
//
// Read takes a file whole: only a regular file, only up to the size that the
// program reads at all, and only once nothing has written to it for a moment,
// because a file cut short can still be valid and give a wrong figure.
//
// Save writes the new contents beside the file, forces them to disk, keeps the
// old ones as a backup (the name with "~" behind it) and puts the new file in
// the place of the old one in a single step. A process killed at any moment
// leaves either the old file or the new one; what it was writing is swept away
// by the next save. A lock on a file of its own keeps two programs from saving
// at once, and a file that changed since it was read is never overwritten:
// Save returns a *ChangedError with what is there now.
//
// A symbolic link is followed, not replaced, and the permissions stay. A hard
// link is broken: the other name keeps the old contents.
//
// All access to files goes through a Layer, so that tests can let each
// operation fail in turn.
package store

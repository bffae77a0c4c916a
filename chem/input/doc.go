// Package input reads the TOML files of the program strictly and keeps, for
// every key and value, where it stands in the file.
package input

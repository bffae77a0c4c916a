package store

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// program is the name of the program's folder in the folders of the user.
const program = "afterpour"

// ErrNoFolder says that the environment names no folder for the user's files.
var ErrNoFolder = errors.New("store: neither HOME nor a base directory variable names an absolute folder")

// ConfigDir returns the folder for the user's own configuration, which need not
// exist: afterpour in $XDG_CONFIG_HOME, or in ~/.config. As the XDG Base
// Directory Specification 0.8 asks, a relative value is ignored. On Windows it
// lies in the roaming application data.
func ConfigDir() (string, error) {
	if runtime.GOOS == "windows" {
		dir, err := os.UserConfigDir()
		return filepath.Join(dir, program), err
	}
	return baseDir("XDG_CONFIG_HOME", ".config")
}

// StateDir returns the folder for recovery files and logs, which need not
// exist: afterpour in $XDG_STATE_HOME, or in ~/.local/state. On Windows it lies
// in the local application data.
func StateDir() (string, error) {
	if runtime.GOOS == "windows" {
		dir, err := os.UserCacheDir()
		return filepath.Join(dir, program), err
	}
	return baseDir("XDG_STATE_HOME", filepath.Join(".local", "state"))
}

func baseDir(variable, fallback string) (string, error) {
	if dir := os.Getenv(variable); filepath.IsAbs(dir) {
		return filepath.Join(dir, program), nil
	}
	home, err := os.UserHomeDir()
	if err != nil || !filepath.IsAbs(home) {
		return "", ErrNoFolder
	}
	return filepath.Join(home, fallback, program), nil
}

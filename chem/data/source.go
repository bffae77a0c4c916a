package data

import (
	"fmt"
	"sync"

	"github.com/BurntSushi/toml"
)

// Source is an entry of sources.toml: a work that figures were taken from.
type Source struct {
	Title string `toml:"title"` // as cited
	Year  string `toml:"year"`  // of the edition, if known
	Read  string `toml:"read"`  // how it was read: the work itself, or through which copy; or "not read"
}

// Sources returns every source by its key.
func Sources() (map[string]Source, error) { return sources() }

var sources = sync.OnceValues(func() (map[string]Source, error) {
	text, err := files.ReadFile("tables/sources.toml")
	if err != nil {
		return nil, fmt.Errorf("data: %w", err)
	}
	return decodeSources(string(text))
})

func decodeSources(text string) (map[string]Source, error) {
	all := map[string]Source{}
	meta, err := toml.Decode(text, &all)
	if err != nil {
		return nil, fmt.Errorf("data: sources.toml: %w", err)
	}
	if extra := meta.Undecoded(); len(extra) > 0 {
		return nil, fmt.Errorf("data: sources.toml: %w: unknown key %s", ErrTable, extra[0])
	}
	for key, s := range all {
		if !named(key, s.Title, s.Read) {
			return nil, fmt.Errorf("data: sources.toml: %w: %q needs a title and how it was read", ErrSource, key)
		}
	}
	return all, nil
}

// SourceByKey returns one source. Error: ErrSource.
func SourceByKey(key string) (Source, error) {
	all, err := Sources()
	if err != nil {
		return Source{}, err
	}
	s, ok := all[key]
	if !ok {
		return Source{}, fmt.Errorf("data: %w: %q", ErrSource, key)
	}
	return s, nil
}

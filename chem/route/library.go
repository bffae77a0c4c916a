package route

import (
	"embed"
	"errors"
	"fmt"
	"path"
	"sync"

	"afterpour/chem/input"
)

//go:embed routes/*.toml
var routeFiles embed.FS

// ErrUnknownRoute says that no route has that id.
var ErrUnknownRoute = errors.New("route: unknown route")

// Library holds the routes that plans are made of. It is not changed after it
// is made, and may be shared.
type Library struct {
	routes []File
	figs   *input.Figures
}

// builtinOrder is the order in which routes are tried and listed.
var builtinOrder = []string{
	"copper-cementation", "chloride-oxide-sugar", "electrolysis-silver",
	"electrolysis-copper", "calcine-sulfate-salt", "calcine-sulfate-copper",
	"chloride-iron", "chloride-zinc", "chloride-soda-melt", "chloride-sugar",
	"hydroxide-sulfate-salt", "iron-cementation", "hydroxide",
	"neutralise",
}

// Builtin returns the library of embedded routes. An error means that the
// program was built with a faulty route file.
func Builtin() (*Library, error) { return builtin() }

var builtin = sync.OnceValues(func() (*Library, error) {
	lib := &Library{figs: &input.Figures{}}
	for _, id := range builtinOrder {
		name := path.Join("routes", id+".toml")
		text, err := routeFiles.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("route: %w", err)
		}
		if err := lib.load(name, text); err != nil {
			return nil, err
		}
	}
	return lib, nil
})

// load adds a route file to the library.
func (lib *Library) load(name string, text []byte) error {
	doc, err := input.Parse(name, text)
	if err != nil {
		return err
	}
	f, err := DecodeFile(doc, lib.figs)
	if err != nil {
		return err
	}
	lib.routes = append(lib.routes, *f)
	return nil
}

// Figures returns the register of the library's figures; clone it before
// adding a lot's.
func (lib *Library) Figures() *input.Figures { return lib.figs }

// Routes lists the routes in the order they are tried.
func (lib *Library) Routes() []File { return lib.routes }

// Route returns a route by its id, or ErrUnknownRoute.
func (lib *Library) Route(id string) (*File, error) {
	for i := range lib.routes {
		if lib.routes[i].ID == id {
			return &lib.routes[i], nil
		}
	}
	return nil, fmt.Errorf("%w %q", ErrUnknownRoute, id)
}

// Treatments lists the ids of the routes that win nothing.
func (lib *Library) Treatments() []string {
	var ids []string
	for i := range lib.routes {
		if lib.routes[i].Treatment {
			ids = append(ids, lib.routes[i].ID)
		}
	}
	return ids
}

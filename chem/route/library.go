package route

import (
	"embed"
	"errors"
	"fmt"
	"path"
	"slices"
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
	rules  []Rule
	own    bool // it holds a route of the user's own
}

// builtinOrder is the order in which routes are tried and listed.
var builtinOrder = []string{
	"copper-cementation", "chloride-oxide-sugar", "electrolysis-silver",
	"electrolysis-copper", "calcine-sulfate-salt", "calcine-sulfate-copper",
	"chloride-iron", "chloride-zinc", "chloride-soda-melt", "chloride-sugar",
	"hydroxide-sulfate-salt", "iron-cementation", "hydroxide",
	"ammonia-ascorbic", "dissolve-nitric", "neutralise",
}

// Builtin returns the library of embedded routes. An error means that the
// program was built with a faulty route file.
func Builtin() (*Library, error) { return builtin() }

var builtin = sync.OnceValues(func() (*Library, error) { return build(nil) })

// build makes a library of the built-in routes, each replaced by the user's
// route of that id if there is one, and the user's further ones after them.
func build(own []ownFile) (*Library, error) {
	book, err := theRules()
	if err != nil {
		return nil, err
	}
	lib := &Library{figs: &input.Figures{}, rules: book.list}
	for _, id := range builtinOrder {
		if slices.ContainsFunc(own, func(f ownFile) bool { return f.id == id }) {
			continue
		}
		name := path.Join("routes", id+".toml")
		text, err := routeFiles.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("route: %w", err)
		}
		doc, err := input.Parse(name, text)
		if err != nil {
			return nil, err
		}
		if err := lib.load(doc); err != nil {
			return nil, err
		}
	}
	return lib, lib.loadOwn(own)
}

// load adds a route file to the library.
func (lib *Library) load(doc *input.Document) error {
	f, err := DecodeFile(doc, lib.figs)
	if err != nil {
		return err
	}
	f.watch(lib.rules)
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

// userRoutes lists those of the routes that are the user's own.
func (lib *Library) userRoutes(ids []string) []string {
	if !lib.own {
		return nil
	}
	var list []string
	for _, id := range ids {
		if f, err := lib.Route(id); err == nil && f.User {
			list = append(list, id)
		}
	}
	return list
}

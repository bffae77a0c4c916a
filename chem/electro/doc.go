// Package electro is the electrochemistry of the bench: Faraday's law, electrode
// and cell potentials, what limits a current, and the winning of a metal from a
// liquor at an inert anode with all that competes for the current.
//
// Conventions. Potentials are reduction potentials against the standard hydrogen
// electrode. Currents and charges are positive. Concentrations are mol/L,
// activities are taken as concentrations unless a caller gives activities.
// Exported functions take and give the quantities of package units; the kernels
// beneath them work in plain float64 of the base units that their comments name.
// Every exported function returns an error (ErrDomain) for an argument outside
// its range and never a NaN or an infinity.
//
// Not modelled: potential and concentration profiles across the plates, the
// growth of dendrites, organic additives, water lost as spray or by electrolysis,
// and the re-dissolution of a deposit by chlorine that reaches the cathode.
//
// Rows of practice and kinetics carry a basis: published, derived, from memory
// (the source is where to check it), common practice, or assumption with its
// reason.
package electro

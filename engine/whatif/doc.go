// Package whatif answers what a plan would be if a few figures of its brief were others. A [Plan] is a
// saved scenario with the [Control]s that may be moved; a [State] says which of them are, and is read
// from and written to the fragment of an address. A state changes the text of the scenario as its
// author would ([Plan.Edit]), and that text is read as any other: so the answer is the one that the
// command gives for the changed file, with the same faults, and the change can be taken over as lines.
package whatif

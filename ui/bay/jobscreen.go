package bay

import "bay.example/pawl/store"

func newJobScreen(number uint64, at *store.Draft) Screen { return newPlace("Job") }

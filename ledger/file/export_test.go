package file

// Create makes a coach file without entries.
func Create(path string) error { return CreateWith(path, Inking{}) }

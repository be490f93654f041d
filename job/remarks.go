package job

// Remarks works out everything the recorded values mean, in the order of the graph.
func (c *Card) Remarks() []Remark {
	return nil
}

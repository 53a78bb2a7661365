package survey

// Dismissed says whether a quiet line would have several readings of one place wrong.
func (d *Diagnosis) Dismissed() bool { return d.dismissed }

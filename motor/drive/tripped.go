package drive

// Tripped reports whether the protection has blocked the gates, because both devices of a leg conducted.
func (d *Drive) Tripped() bool { return d.wiring.tripped }

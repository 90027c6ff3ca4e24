package motor

// Flux returns the flux that links the stator's winding, in Wb per phase, at current i (A) of a star-connected
// machine:
//
//	ψ_d = L_d i_d + ψ
//	ψ_q = L_q i_q
//
// Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives (CRC, 2010), ch. 3.
func (m Machine) Flux(i DQ) DQ {
	return DQ{D: m.InductanceD*i.D + m.FluxLinkage, Q: m.InductanceQ * i.Q}
}

package published

// A Source is where a figure, or the formula or circuit that it follows from, is published.
type Source struct {
	Short string // as a table has room for
	Title string
}

// The sources. Titles and places are recalled, but for IEEE 519, the WCAG and what else is open to all.
var (
	mohan        = &Source{"Mohan, Undeland, Robbins, ch. 8", "N. Mohan, T. M. Undeland, W. P. Robbins, Power Electronics, 3rd ed., Wiley 2003, ch. 8"}
	mohanTable1  = &Source{"Mohan, Undeland, Robbins, Table 8-1", mohan.Title + ", Table 8-1"}
	mohanTable2  = &Source{"Mohan, Undeland, Robbins, Table 8-2", mohan.Title + ", Table 8-2"}
	rashid       = &Source{"Rashid, ch. 6", "M. H. Rashid, Power Electronics, 3rd/4th ed., ch. 6, three-phase bridge on an R-L load"}
	bimbhra      = &Source{"Bimbhra, three-phase bridges", "P. S. Bimbhra, Power Electronics, chapter on inverters, three-phase bridge on resistances"}
	stepped      = &Source{"Fourier sum of its steps", "Fourier sum of the piecewise constant wave"}
	holmes       = &Source{"Holmes & Lipo", "D. G. Holmes, T. A. Lipo, Pulse Width Modulation for Power Converters, IEEE/Wiley 2003"}
	bowes        = &Source{"Bowes 1975", "S. R. Bowes, Proc. IEE 122 (1975)"}
	houldsworth  = &Source{"Houldsworth & Grant 1984", "J. A. Houldsworth, D. A. Grant, IEEE Trans. IA-20 (1984) 1224"}
	vanDerBroeck = &Source{"van der Broeck et al. 1988", "H. W. van der Broeck, H.-C. Skudelny, G. V. Stanke, IEEE Trans. IA-24 (1988) 142"}
	hava         = &Source{"Hava, Kerkman, Lipo 1999", "A. M. Hava, R. J. Kerkman, T. A. Lipo, IEEE Trans. PE-14 (1999) 49"}
	jeong        = &Source{"Jeong & Park 1991", "S.-G. Jeong, M.-H. Park, IEEE Trans. IE-38 (1991) 108"}
	casanellas   = &Source{"Casanellas 1994", "F. Casanellas, IEE Proc. Electr. Power Appl. 141 (1994) 235"}
	bierhoff     = &Source{"Bierhoff & Fuchs 2004", "M. H. Bierhoff, F. W. Fuchs, PESC 2004"}
	iecLosses    = &Source{"IEC 61800-9-2", "IEC 61800-9-2, losses of power drive systems"}
	kolar        = &Source{"Kolar & Round 2006", "J. W. Kolar, S. D. Round, IEE Proc. Electr. Power Appl. 153 (2006) 535"}
	foster       = &Source{"JESD51-14; IEC 60747-9", "JESD51-14 and IEC 60747-9, transient thermal impedance"}
	krishnan     = &Source{"Krishnan, ch. 3", "R. Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives, CRC 2010, ch. 3"}
	morimoto     = &Source{"Morimoto et al. 1990", "S. Morimoto et al., IEEE Trans. IA-26 (1990) 866"}
	soong        = &Source{"Soong & Miller 1994", "W. L. Soong, T. J. E. Miller, IEE Proc. Electr. Power Appl. 141 (1994) 331"}
	jahns        = &Source{"Jahns & Caliskan 1999", "T. M. Jahns, V. Caliskan, IEEE Trans. IA-35 (1999) 1347"}
	welchko      = &Source{"Welchko et al. 2003", "B. A. Welchko, T. M. Jahns, W. L. Soong, J. M. Nagashima, IEEE Trans. EC-18 (2003) 291"}
	mendes       = &Source{"Mendes & Cardoso 1999", "A. M. S. Mendes, A. J. M. Cardoso, IEMDC 1999"}
	rothenhagen  = &Source{"Rothenhagen & Fuchs 2004", "K. Rothenhagen, F. W. Fuchs, PESC 2004"}
	estima       = &Source{"Estima & Cardoso 2011", "J. O. Estima, A. J. M. Cardoso, IEEE Trans. IA-47 (2011)"}
	circuit      = &Source{"Kirchhoff's laws", "Kirchhoff's and Ohm's laws"}
	road         = &Source{"m g (sin + c cos) + drag", "textbooks of vehicle dynamics, with the standard gravity of ISO 80000-3"}
	boost        = &Source{"ideal switches and diodes, stepped", "circuit of ideal switches and diodes, stepped 40 000 to 100 000 times a turn"}
)

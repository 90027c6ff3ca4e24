package inverter

// Active lists the six states with three switches on that make a field, in the order of their angles
// 0, π/3, ... 5π/3; each vector has length 2/3 of the supply.
//
// van der Broeck, Skudelny, Stanke, IEEE Trans. IA-24 (1988) 142.
var Active = [6]Gates{
	On(UHigh, VLow, WLow),
	On(UHigh, VHigh, WLow),
	On(ULow, VHigh, WLow),
	On(ULow, VHigh, WHigh),
	On(ULow, VLow, WHigh),
	On(UHigh, VLow, WHigh),
}

// States lists the eight states of a bridge whose legs are all driven: the six of [Active], then all low
// and all high, which make no field.
var States = [8]Gates{Active[0], Active[1], Active[2], Active[3], Active[4], Active[5], AllLow, AllHigh}

package bed

// OxygenMolarMass is that of O2, g/mol (IUPAC standard atomic weights, from memory).
const OxygenMolarMass = 31.998

// The oxygen used by what a disturbance frees, by stoichiometry: FeS at once to rust and
// elemental sulphur (0.75 mol O2 a mole), within days to rust and sulphate (2.25);
// dissolved sulphide to sulphate (2); total ammonia to nitrate (2).
const (
	OxygenPerIronSulfideFast = 0.75 * OxygenMolarMass           // g O2/mol FeS
	OxygenPerIronSulfide     = 2.25 * OxygenMolarMass           // g O2/mol FeS
	OxygenPerSulfide         = 2 * OxygenMolarMass / molarMassS // g O2/g S
	OxygenPerAmmonia         = 2 * OxygenMolarMass / molarMassN // g O2/g N
)

// Disturbance is a stir or a siphoning of a bed.
type Disturbance struct {
	Footprint    float64 // area of the whole bed, m²
	Share        float64 // of the footprint that is disturbed, 0 to 1
	Depth        float64 // how deep, m below the bed surface
	Reaching     float64 // share of what is freed that gets into the water, 0 to 1 (Method)
	Exchangeable float64 // ammonium held by grains over that dissolved in the pores
	Desorbed     float64 // share of the ammonium held by grains that comes loose, 0 to 1
}

// Release is what a disturbance frees into the water: masses, or those in each m³ of it.
type Release struct {
	Ammonia     float64 // total, g N; in a m³: mg N/L
	Sulfide     float64 // total dissolved, g S; in a m³: mg S/L
	IronSulfide float64 // mol FeS; in a m³: mmol/L
	FastDebt    float64 // oxygen taken within hours, g O2; in a m³: mg/L
	FullDebt    float64 // oxygen taken in all, the fast debt included, g O2; in a m³: mg/L
}

// Release is what the disturbance frees from layers, top to bottom, down to its depth or
// their end.
//
//	TAN = q A f Σ h φ TAN (1 + K x), S = q A f Σ h φ S, FeS = q A f Σ h ρ FeS
//
// Limits: an upper bound, as if all mixed at once and neither plants nor bacteria took
// any; much sulphide is oxidised or bound within minutes.
//
// Source: a mass balance; share desorbed within 15 min: Fitzsimons et al. 2006, Marine
// Chemistry 101:12.
func (d Disturbance) Release(layers []Layer) Release {
	var ammonia, sulfide, ironSulfide float64 // per m²: g N, g S, mol
	left := d.Depth
	for _, l := range layers {
		h := min(left, l.Thickness)
		ammonia += h * l.Porosity * l.Ammonia * (1 + d.Exchangeable*d.Desorbed)
		sulfide += h * l.Porosity * l.Sulfide
		ironSulfide += h * l.Solids * l.IronSulfide * molPerMicromolPerGram
		if left -= h; left <= 0 {
			break
		}
	}
	freed := d.Reaching * d.Footprint * d.Share
	return newRelease(freed*ammonia, freed*sulfide, freed*ironSulfide)
}

// molPerMicromolPerGram turns kg × µmol/g into mol.
const molPerMicromolPerGram = 1e3 * 1e-6

func newRelease(ammonia, sulfide, ironSulfide float64) Release {
	return Release{
		Ammonia:     ammonia,
		Sulfide:     sulfide,
		IronSulfide: ironSulfide,
		FastDebt:    OxygenPerIronSulfideFast * ironSulfide,
		FullDebt:    OxygenPerIronSulfide*ironSulfide + OxygenPerSulfide*sulfide + OxygenPerAmmonia*ammonia,
	}
}

// In is the release spread over a volume of water, m³.
func (r Release) In(volume float64) Release {
	return Release{r.Ammonia / volume, r.Sulfide / volume, r.IronSulfide / volume, r.FastDebt / volume, r.FullDebt / volume}
}

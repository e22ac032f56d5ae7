package crew

import "slices"

// Offer is a way to take a slip that looks wrong.
type Offer struct {
	Kind  OfferKind
	Slip  Slip  // as it would then be
	Meant Meant // AsMeant: what it makes of it
}

// OfferKind is what an offer does.
type OfferKind string

// The kinds of offer. Of those but the first the slip is recorded, whatever Look still says of it.
const (
	AsMeant  OfferKind = "as-meant" // one figure at a time: it is looked at again
	WithLift OfferKind = "with-lift"
	AsTyped  OfferKind = "as-typed"
)

// Offers are the ways to take a slip, the likeliest first, that Look doubts; cannot says that it
// found the slip impossible, which then can only have been meant otherwise.
func Offers(slip Slip, ds []Doubt, cannot bool) (all []Offer) {
	if i := slices.IndexFunc(ds, func(d Doubt) bool { return len(d.Readings) > 0 }); i >= 0 {
		o := Offer{AsMeant, slip, ds[i].Readings[0]}
		o.Meant.Apply(&o.Slip)
		all = append(all, o)
	}
	if cannot {
		return all
	}
	if slices.ContainsFunc(ds, func(d Doubt) bool { return d.Lift }) {
		lifted := slip
		lifted.FullPower = string(Lifted)
		all = append(all, Offer{Kind: WithLift, Slip: lifted})
	}
	return append(all, Offer{Kind: AsTyped, Slip: slip})
}

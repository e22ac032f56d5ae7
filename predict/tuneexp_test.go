package predict

func (p *Prospect) Bias() (b [8]float64) {
	for k := range b {
		b[k] = p.Before.law.mean[k] - p.logs[k]
	}
	return b
}

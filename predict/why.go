package predict

func (p *Prospect) compare(u *Upgrade, c Change) error { return nil }

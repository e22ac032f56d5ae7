package logbook

// Vehicle is a car or motorcycle; its id is the short name the racer gave it.
type Vehicle struct {
	Entry
	Title      string `csv:"title"      json:"title,omitzero"`
	Kind       string `csv:"kind"       json:"kind"           oneof:"car motorcycle"                    required:"yes"`
	Aspiration string `csv:"aspiration" json:"aspiration"     oneof:"natural supercharged turbocharged" required:"yes"`
	Drive      string `csv:"drive"      json:"drive,omitzero" oneof:"rear front all"`
	Body       string `csv:"body"       json:"body,omitzero"`
	Fuel       string `csv:"fuel"       json:"fuel,omitzero"`
	Notes      string `csv:"notes"      json:"notes,omitzero"`
}

// Name is the full title where there is one, else the short name.
func (v Vehicle) Name() string {
	if v.Title != "" {
		return v.Title
	}
	return v.ID
}

// Check refuses what cannot be.
func (v Vehicle) Check() error {
	if err := CheckName("vehicle", v.ID); err != nil {
		return err
	}
	return checkRecord(&v)
}

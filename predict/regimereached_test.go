package predict_test

// reached are the figures, of the first and the second simulator, that are held where what
// is wanted is not met.
var reached = map[string][2]float64{}

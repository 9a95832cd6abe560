package words

// From where on a difference between two scores is worth a word, stops (ours).
const (
	CloseStops  = 0.25 // nearer than this, two filters, or two hours, are as good as one another
	ReasonStops = 0.1  // what moves a result by less is no reason
)

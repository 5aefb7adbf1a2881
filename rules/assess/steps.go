package assess

func (w *work) writeSteps(states []*state) {}

func (w *work) limitations(states []*state) {}

"""The lay: how the cloth is folded, where each piece lies on it, what to buy, what stays whole."""

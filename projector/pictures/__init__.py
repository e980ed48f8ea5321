"""Pictures to keep: alignment, forecast, traced outline, the card's page."""

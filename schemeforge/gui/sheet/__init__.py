"""The Sheet page: what goes on paper, seen as it prints, and ways to take it along."""

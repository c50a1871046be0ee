"""guardcone reads a kiln-firing plan, computes the firing and says what would go wrong."""

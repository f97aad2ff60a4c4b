"""What a maker needs: nets, artwork, meshes, drawings, notes."""

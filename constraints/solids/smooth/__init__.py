"""Smooth bodies of constant width: half the width plus odd spherical harmonics that a group of symmetries keeps."""

"""A frame's piece in the round: closed triangle meshes from its sections and centrelines, as glTF and STL."""

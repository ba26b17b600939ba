"""The metal: pieces, their branches, segments, marks, joints and places."""

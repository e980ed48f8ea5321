"""A shirt with a collar and its under side, its fronts a mirrored pair, for tests of cards and strips."""

_BODY = """\
  {name}:
    cut: {cut}
    edges:
      - {{name: neck, kind: seam, path: [[0, 3], [3, 0]]}}
      - {{name: shoulder, kind: seam, path: [[3, 0], [8, 2]]}}
      - {{name: armhole, kind: seam, path: [[8, 2], [9, 10]]}}
      - {{name: side, kind: seam, path: [[9, 10], [9, 24]]}}
      - {{name: hem, kind: hem, path: [[9, 24], [0, 24]]}}
      - {{name: centre {name}, kind: {centre}, path: [[0, 24], [0, 3]]}}
"""
_COLLAR = """\
  {name}:
    cut: 1 on fold
    edges:
      - {{name: neck back, kind: seam, path: [[0, 3], [4.24264, 3]]}}
      - {{name: neck front, kind: seam, path: [[4.24264, 3], [8.48528, 3]]}}
      - {{name: end, kind: seam, path: [[8.48528, 3], [8.48528, 0]]}}
      - {{name: outer, kind: seam, path: [[8.48528, 0], [0, 0]]}}
      - {{name: centre, kind: fold, path: [[0, 0], [0, 3]]}}
"""
COLLARED = (
    "pattern: Pilot's shirt\nallowance: {seam: 1/2 in, hem: 1/2 in}\npieces:\n"
    + _BODY.format(name="front", cut="2 mirrored", centre="seam")
    + _BODY.format(name="back", cut="1 on fold", centre="fold")
    + _COLLAR.format(name="collar")
    + _COLLAR.format(name="under collar")
    + "joins: [[front/neck, collar/neck front], [back/neck, collar/neck back], [front/side, back/side], "
    "[collar/end, under collar/end], [collar/outer, under collar/outer], [front/shoulder, back/shoulder]]\n"
)

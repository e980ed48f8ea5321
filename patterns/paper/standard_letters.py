"""Text in the letters that every PDF reader has without a font of ours."""

import unicodedata


def in_standard_letters(text: str) -> str:
    """The text in the letters of PDF's standard fonts: those they lack lose their accents, or become "?".

    >>> in_standard_letters("Ōban, crêpe 1/2 in, 帯")
    'Oban, crêpe 1/2 in, ?'
    """
    letters = []
    for letter in text:
        try:
            letter.encode("latin-1")
        except UnicodeEncodeError:
            letters.append(
                unicodedata.normalize("NFKD", letter)[0].encode("latin-1", "replace").decode("latin-1")
            )
        else:
            letters.append(letter)
    return "".join(letters)

"""Information: how much does a test tell, before it is made?

With y what could be seen and s the studio, the expected information is

    I = mean over s, y of  ln p(y | s) - ln p(y),   p(y) = mean over s of p(y | s)   (1)

in natural units.  It is worked out by simulation: for each of n studios i an
outcome y_i is drawn, and its likelihood is taken at all studios j.

Left out: p(y) is the mean over the same n studios, which gives no more than ln n and
is a little too low or too high as luck has it; compare tests on the same draws.

Source: Lindley (1956), Ann. Math. Stat. 27, 986; nested simulation as in Ryan (2003),
J. Comput. Graph. Stat. 12, 585.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError


def expected_information(log_likelihood: si.Ratios) -> si.Ratio:
    """Return the expected information of a test, by (1), in natural units [-].

    Parameters
    ----------
    log_likelihood : array [-], shape (studios, studios)
        Row i, column j: ln of the likelihood of outcome i at studio j.

    Raises
    ------
    InputError
        If the array is not square or has fewer than two rows.
    """
    rows, columns = log_likelihood.shape
    if rows != columns or rows < 2:
        raise InputError("log_likelihood", f"{rows} x {columns}", "", "square, of 2 or more")
    most = log_likelihood.max(axis=1)
    mean = most + np.log(np.exp(log_likelihood - most[:, None]).mean(axis=1))
    return float((np.diag(log_likelihood) - mean).mean())

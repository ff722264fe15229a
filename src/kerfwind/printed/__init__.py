"""The printed plan, the drawings and the tables: everything that goes to a folder."""

from .cart_figures import begin_cart
from .figure_files import Figures
from .typeface import lacking
from .writing import plan_pages, write_all

__all__ = ["Figures", "begin_cart", "lacking", "plan_pages", "write_all"]

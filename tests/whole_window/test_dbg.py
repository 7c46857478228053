from tests.whole_window import sample_page
from tests.whole_window.page_checks import _standing, _wear
from tests.whole_window.test_page_checks import *
from tests.whole_window.checks import colour
from PySide6.QtWidgets import QApplication
def test_x(qtbot):
    def b():
        p=sample_page.build(); weak_placeholder(p); return p
    R=QPalette.ColorRole.PlaceholderText
    page=b(); w=part(page,"pressure"); print(w.palette().color(R).name())
    qtbot.addWidget(page); page.show(); QApplication.processEvents(); print(w.palette().color(R).name())
    _wear(QApplication.instance(), theme.LIGHT); print(w.palette().color(R).name())
    assert 0

import time, cProfile, pstats
from PySide6.QtTest import QTest
from workbench.gui.window import MainWindow
from workbench.gui.settings import Settings
from workbench.job import document
from workbench import paths

def test_a(qtbot):
    w=MainWindow(Settings()); qtbot.addWidget(w)
    w.store.open_job(document.read(paths.demo_job()), None)
    with qtbot.waitSignal(w.page.completed): w.show()
    w.activateWindow()
    f=w.page.inputs.rows["cut_out"].field
    f.setFocus(); f.selectAll(); QTest.keyClicks(f,"60 psi")
    for k in range(3):
        f.selectAll();t=time.perf_counter(); QTest.keyClicks(f,"61 psi"); print("6 keys",time.perf_counter()-t)
    p=cProfile.Profile(); p.enable()
    for k in range(5):
        f.selectAll(); QTest.keyClicks(f,"62 psi")
    p.disable(); pstats.Stats(p).sort_stats("tottime").print_stats(22)
    pstats.Stats(p).sort_stats("cumtime").print_stats(40)
    w.store.undo_stack.setClean(); w.close()

"""The panel by the screen's own mouse and keys: narrow, scrolled, its figures, tables and forms: see
../workbench_window_test.py."""
from PySide import QtCore, QtGui

import hand
import window
from at_panel import answered, open_panel
from at_view import sample_boat
from sample_repair import parts
from tearline_cad.panel.fields import Choice
from window import check, panel, picture, settle, wait_until, widget


def narrow():
    """At 244 pixels everything can be read and reached, without a bar to scroll sideways."""
    window.narrow(244)
    form = panel().form
    check(form.width() <= 244, f"the panel is {form.width()} wide")
    inner = form.area.widget()
    check(inner.width() <= form.area.viewport().width(), "nothing is cut off at the side")
    picture("30-narrow")


def strip_in_sight():
    """The state is in sight however far the panel has scrolled."""
    for _ in range(3):
        hand.wheel(hand.middle_of(panel().form.area), 10)
    check(panel().form.area.verticalScrollBar().value() > 0, "the wheel scrolls the panel")
    strip = panel().strip
    check(strip.visibleRegion().boundingRect().height() == strip.height(), "the strip is in sight")


def wheel_over_fields(repair):
    """Over a field that has no focus the wheel scrolls the panel and changes nothing."""
    open_ = [section for section in panel().form.area.widget().children()
             if hasattr(section, "unfold")]
    for section in open_:
        section.unfold()
    settle(0.3)
    before = {name: getattr(repair, name) for name in repair.PropertiesList
              if name not in ("PlanState", "Fault")}
    bar = panel().form.area.verticalScrollBar()
    bar.setValue(0)
    settle(0.1)
    while bar.value() < bar.maximum():
        at = bar.value()
        hand.wheel(hand.middle_of(panel().form.area), 1)
        if bar.value() == at:
            bar.setValue(at + 40)  # the list of warnings has a bar of its own
            settle(0.05)
    for name, value in before.items():
        now = getattr(repair, name)
        check(str(now) == str(value), f"the wheel changed {name}: {value} to {now}")
    boxes = [box for box in panel().form.findChildren(Choice) if box.isVisible()]
    for box in boxes:
        panel().form.reveal(box)
        settle(0.02)
        index = box.currentIndex()
        hand.wheel(hand.middle_of(box), 2)
        check(box.currentIndex() == index, f"the wheel changed {box.objectName()}")
    check(len(boxes) > 10, f"{len(boxes)} lists were tried")


def units(repair):
    area = widget("Total Cloth to cut").text()
    check(area == f"{repair.GlassArea.Value / 1e6:.2f} m²", f"cloth is bought by the square metre: {area}")
    hand.fill(widget("Skin"), "0.5 in")
    check(abs(repair.Skin.Value - 12.7) < 1e-9, f"half an inch: {repair.Skin.Value}")
    hand.fill(widget("HardenerPercent"), "1,5")
    check(repair.HardenerPercent == 1.5, f"a decimal comma: {repair.HardenerPercent}")
    check(widget("HardenerPercent").text() == "1.5 %", widget("HardenerPercent").text())
    hand.fill(widget("HardenerPercent"), "1,500")
    check(repair.HardenerPercent == 1.5, "what could be read in two ways is not taken")
    check(widget("HardenerPercent").styleSheet() != "", "and looks at fault")
    hand.fill(widget("HardenerPercent"), "")
    check(repair.HardenerPercent == 0 and widget("HardenerPercent").placeholderText() == "1.25 %",
          f"empty: the usual, in grey: {widget('HardenerPercent').placeholderText()}")
    check(widget("GelMinutes").text() == "", "not known is empty, never 0")
    check(not widget("HardenerParts").isVisible(), "fields of another resin are hidden")
    answered()


def written_while_a_plan_comes(repair):
    """A pause in writing lets a plan begin; what is written when it has come goes on where it was."""
    hand.fill(widget("Depth"), "5", leave="")
    wait_until(lambda: repair.Depth.Value == 5, "what is written counting")
    answered()
    check(not repair.MustExecute and "Touched" not in repair.State, f"it is up to date: {repair.State}")
    hand.write(".5")
    hand.key("Tab")
    check(repair.Depth.Value == 5.5, f"5, then .5 behind it: {repair.Depth.Value}")
    # In 12345 mm FreeCAD shows metres; who goes on writing still writes millimetres, as they stood there.
    hand.fill(widget("Depth"), "12345", leave="")
    wait_until(lambda: repair.Depth.Value == 12345, "the pause")
    for _ in range(4):
        hand.key("BackSpace")
    hand.key("Tab")
    check(repair.Depth.Value == 1, f"12345 with four signs taken back: {repair.Depth.Value} mm")
    hand.fill(widget("Depth"), "1e999")
    check(repair.Depth.Value == 1 and widget("Depth").styleSheet() != "", f"no figure is without end: {repair.Depth.Value}")
    hand.fill(widget("Depth"), "6.3")


def stack(repair):
    """Plies are added, edited and dragged into another order."""
    table = widget("Stack table")
    panel().form.reveal(table)
    settle(0.2)
    for _ in range(2):
        hand.click(hand.middle_of(widget("Stack +")))
        answered()
        settle(0.2)
    check(list(repair.Stack) == ["mat 450", "mat 450"], f"two plies: {repair.Stack}")
    item = table.topLevelItem(0)
    item.setText(0, "roving 600")
    settle(0.1)
    check(repair.Stack[0] == "roving 600", f"{repair.Stack}")
    answered()
    settle(0.5)

    def middle(row, column):
        box = table.visualItemRect(table.topLevelItem(row))
        x = table.columnViewportPosition(column) + table.columnWidth(column) // 2
        return table.viewport().mapToGlobal(QtCore.QPoint(x, box.center().y()))

    hand.click(middle(0, 1), times=2)
    # Two clicks that a busy machine hears late are none doubled: the list then opens its field after a while.
    wait_until(lambda: table.viewport().findChild(QtGui.QLineEdit), "a field for the angle")
    hand.write("45")
    hand.key("Return")
    settle(0.2)
    check(repair.Stack[0] == "roving 600 @ 45", f"an angle: {repair.Stack}")
    picture("31-stack")
    hand.drag_and_drop(middle(0, 0), middle(1, 0) + QtCore.QPoint(0, 9))
    settle(0.3)
    check(list(repair.Stack) == ["mat 450", "roving 600 @ 45"], f"dragged: {repair.Stack}")
    for _ in range(2):
        hand.click(hand.middle_of(widget("Stack –")))
        answered()
        settle(0.2)
    settle(0.2)
    check(not repair.Stack, f"taken away: {repair.Stack}")


def own_cloth(repair):
    form = widget("OwnCloths")
    panel().form.reveal(form)
    settle(0.2)
    hand.click(hand.middle_of(widget("OwnCloth +")))
    hand.fill(widget("Cloth name"), "yard mat")
    hand.fill(widget("Cloth weight"), "380")
    settle(0.2)
    check([line.replace(" ", "") for line in repair.FurtherTables] ==
          ["[[fabric]]", 'kind="mat"', 'name="yardmat"', 'weight="380.0g/m2"'],
          f"{repair.FurtherTables}")
    picture("32-own-cloth")
    panel()._told("Fill", ["yard mat"])
    answered()
    check(repair.PlanState == "Planned", repair.PlanState)
    check({made.Fabric for made in parts(repair, "ply") if not made.Cover} == {"yard mat"},
          "it is laid")
    panel()._told("Fill", ["mat 450"])
    answered()


def set_elsewhere(document, repair):
    """FreeCAD's property editor and macros change what the panel shows; without its hull a plan is an old one."""
    repair.Ratio = 11
    wait_until(lambda: widget("Ratio").text() == "11 : 1", lambda: f"the panel shows {widget('Ratio').text()}")
    wait_until(lambda: panel().strip.kind == "planned" and panel().plan.fits(), "a plan of the property")
    hull = repair.Hull
    repair.Hull = None
    wait_until(lambda: panel().strip.kind == "refused", "the strip says that there is no hull")
    check("text-decoration" in widget("Total Glass").styleSheet(), "its figures are struck through")
    repair.Hull = hull
    wait_until(lambda: panel().strip.kind == "planned", "the plan is that of the hull again")


def main():
    document, repair, view = sample_boat()
    window.look_at_port_chine(view)
    open_panel(repair)
    narrow()
    strip_in_sight()
    units(repair)
    written_while_a_plan_comes(repair)
    stack(repair)
    own_cloth(repair)
    wheel_over_fields(repair)
    set_elsewhere(document, repair)


window.run(main)

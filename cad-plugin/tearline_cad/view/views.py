"""View providers of what a repair makes: plies, outlines, templates."""
from pivy import coin

from tearline_cad.view.icons import icon


class Stateless:
    """A view provider that keeps nothing in the file."""

    def dumps(self):
        return None

    def loads(self, state):
        return None

    __getstate__, __setstate__ = dumps, loads


def _selectable(vobj):
    """A separator whose content FreeCAD picks and lights up as it does a solid."""
    node = coin.SoType.fromName("SoFCSelection").createInstance()
    node.getField("documentName").set(f'"{vobj.Object.Document.Name}"')
    node.getField("objectName").set(f'"{vobj.Object.Name}"')
    return node


class Drawn(Stateless):
    """What is drawn by nodes of our own; redraw.py fills `node`."""

    mode = ""

    def __init__(self, vobj):
        vobj.Proxy = self

    def attach(self, vobj):
        self.node = _selectable(vobj)
        # Who draws may still hold us when FreeCAD has let its object go, and the node with it.
        self._holder = coin.SoSeparator()
        self._holder.addChild(self.node)
        self.source = None
        vobj.addDisplayMode(self.node, self.mode)

    def getDisplayModes(self, vobj):
        return [self.mode]

    def getDefaultDisplayMode(self):
        return self.mode

    def setDisplayMode(self, mode):
        return mode

    def getElementPicked(self, picked):
        """It is picked as a whole: triangles of ours are no faces of its shape."""
        return ""

    def show(self, source, nodes):
        """Replaces what is drawn by nodes(), unless it was drawn from the same `source`: a step for each node
        made, all of them shown at the last."""
        if source == self.source:
            return
        made = []
        for node in nodes():
            made.append(node)
            yield
        self.source = source
        self.node.removeAllChildren()
        for node in made:
            self.node.addChild(node)


class ClothView(Drawn):
    """Plies and outlines on the hull."""

    mode = "Cloth"

    def getIcon(self):
        return icon("ply")


class TemplateView(Drawn):
    """Flat templates."""

    mode = "Sheet"

    def getIcon(self):
        return icon("templates")

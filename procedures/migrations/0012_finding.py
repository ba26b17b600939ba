from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("procedures", "0011_shops")]

    operations = []
